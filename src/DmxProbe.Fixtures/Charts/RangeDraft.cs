using DmxProbe.Fixtures.Tables;

namespace DmxProbe.Fixtures.Charts;

/// <summary>A row of a chart before its slot is whole.</summary>
internal readonly record struct RangeDraft(WideValue From, WideValue To, string Meaning, TableRow Row)
{
    public int Line => Row.Line;
}
