using System.Text.Json;

using DmxProbe.Analysis.Timing;

namespace DmxProbe.Reporting.Json;

/// <summary>Timing figures as JSON.</summary>
public static class TimingJson
{
    /// <summary>Writes the figures of one or several inputs.</summary>
    /// <param name="output">Where to, as UTF-8; left open.</param>
    /// <param name="inputs">The name of each input as the person gave it, and its figures.</param>
    public static void Write(Stream output, IReadOnlyList<(string Input, IReadOnlyList<TimingMeasurement> Figures)> inputs) =>
        JsonPage.Write(output, "timing", json =>
        {
            json.Texts("inputs", inputs.Select(input => input.Input));
            json.Objects(
                "timing",
                inputs.SelectMany((input, place) => input.Figures.Select(figure => (Place: place, Figure: figure))),
                (writer, row) => Row(writer, row.Place, row.Figure));
        });

    private static void Row(Utf8JsonWriter json, int place, TimingMeasurement figure)
    {
        json.WriteNumber("input", place);
        json.Text("subject", figure.Subject);
        json.WriteString("protocol", JsonWords.Of(figure.Protocol));
        json.WriteNumber("startCode", figure.StartCode);
        json.WriteString("quantity", figure.Quantity);
        json.WriteString("unit", figure.Unit);
        json.Figure("min", figure.Min);
        json.Figure("median", figure.Median);
        json.Figure("max", figure.Max);
        json.WriteNumber("count", figure.Count);
        json.Figure("resolution", figure.Resolution);
        json.WriteString("measuredAt", figure.MeasuredAt);
        Limit(json, "transmit", figure.Transmit);
        Limit(json, "receive", figure.Receive);
        json.WriteString("verdict", JsonWords.Of(figure.Verdict));
        json.TextOrNull("undecidedAgainst", figure.UndecidedAgainst);
        json.TextOrNull("note", figure.Note);
    }

    private static void Limit(Utf8JsonWriter json, string name, LimitRange? limit)
    {
        if (limit is null)
        {
            json.WriteNull(name);
            return;
        }

        json.WriteStartObject(name);
        json.Figure("min", limit.Min);
        json.Figure("max", limit.Max);
        json.Text("source", limit.Source);
        json.WriteEndObject();
    }
}
