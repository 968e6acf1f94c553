namespace DmxProbe.Fixtures.Charts;

/// <summary>The charts at hand, found by the names the patch sheet uses; names match in any case.</summary>
public sealed class ChartSet
{
    private readonly Dictionary<string, Chart> _charts = new(StringComparer.OrdinalIgnoreCase);

    /// <summary>Makes a set; of two charts of one type the first stays.</summary>
    public ChartSet(IEnumerable<Chart> charts)
    {
        ArgumentNullException.ThrowIfNull(charts);
        foreach (Chart chart in charts)
        {
            _charts.TryAdd(chart.Type, chart);
        }
    }

    /// <summary>The charts, in no order.</summary>
    public IReadOnlyCollection<Chart> Charts => _charts.Values;

    /// <summary>The chart of a type, or null.</summary>
    public Chart? Find(string type) => _charts.GetValueOrDefault(type);

    /// <summary>A mode of a type, or null when the type or the mode is not known.</summary>
    public ChartMode? Find(string type, string mode) =>
        Find(type)?.Modes.FirstOrDefault(known => known.Name.Equals(mode, StringComparison.OrdinalIgnoreCase));

    /// <summary>How many slots a type takes in a mode; 1 when that is not known, the least it can take.</summary>
    public int FootprintOf(string type, string mode) => Find(type, mode)?.Footprint ?? 1;
}
