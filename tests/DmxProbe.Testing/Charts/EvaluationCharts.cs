using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Testing.Charts;

/// <summary>The seven types of the evaluation rigs (design, section 8), read from the charts embedded beside this file.</summary>
public static class EvaluationCharts
{
    private static readonly string[] Names = ["dimmer", "rgb", "drgb", "rgbw-dimmer6", "wash10", "head16", "head14"];

    /// <summary>All seven, each with one mode, in the order of the design.</summary>
    public static IReadOnlyList<Chart> All { get; } = [.. Names.Select(Load)];

    /// <summary>The chart of a type.</summary>
    public static Chart Of(string type) => All.Single(chart => chart.Type == type);

    /// <summary>The CSV text of a type's chart, as committed.</summary>
    public static string Text(string type)
    {
        using Stream stream = typeof(EvaluationCharts).Assembly.GetManifestResourceStream("Charts." + type + ".csv")
            ?? throw new ArgumentException("no chart of that type: " + type, nameof(type));
        using StreamReader reader = new(stream);
        return reader.ReadToEnd();
    }

    private static Chart Load(string type)
    {
        using StringReader text = new(Text(type));
        ChartReading reading = ChartReader.Read(type, text);
        return reading.Chart ?? throw new InvalidOperationException(type + ": " + reading.Problems[0]);
    }
}
