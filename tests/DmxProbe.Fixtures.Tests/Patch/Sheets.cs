using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Testing.Charts;

namespace DmxProbe.Fixtures.Tests.Patch;

/// <summary>Sheets written as rows without a header, read by the reader itself.</summary>
internal static class Sheets
{
    public const string Header = "unit,type,mode,universe,address,sharesWith\n";

    public static ChartSet Charts { get; } = new(EvaluationCharts.All);

    public static PatchSheet Of(params string[] rows)
    {
        using StringReader text = new(Header + string.Join('\n', rows));
        PatchReading reading = PatchReader.Read(text);
        Assert.Empty(reading.Problems);
        return reading.Sheet!;
    }
}
