using DmxProbe.Fixtures.Tables;

namespace DmxProbe.Fixtures.Charts;

/// <summary>What came of reading a chart: the chart, or why it is refused.</summary>
/// <param name="Chart">The chart; null when it is refused.</param>
/// <param name="Problems">Why it is refused, in the order of the file, at most 20; empty when it is not.</param>
public sealed record ChartReading(Chart? Chart, IReadOnlyList<TableProblem> Problems)
{
    /// <summary>What was left out of a chart that is not refused, at most 20: modes that do not make sense.</summary>
    public IReadOnlyList<TableProblem> Notes { get; init; } = [];
}
