using System.Text.Json;

using DmxProbe.Analysis.Compare;
using DmxProbe.Analysis.Timing;

namespace DmxProbe.Reporting.Json;

/// <summary>Timing figures as JSON.</summary>
public static class TimingJson
{
    /// <summary>Writes the figures of one or several inputs.</summary>
    /// <param name="output">Where to, as UTF-8; left open.</param>
    /// <param name="inputs">The inputs with their figures.</param>
    /// <param name="taps">Inputs that were compared as two taps; null for none.</param>
    public static void Write(Stream output, IReadOnlyList<TimedInput> inputs, IReadOnlyList<TapPair>? taps = null) =>
        JsonPage.Write(output, "timing", json =>
        {
            Body(json, inputs);
            TapJson.Write(json, taps ?? []);
        });

    /// <summary>Writes the fields into an object that is open.</summary>
    internal static void Body(Utf8JsonWriter json, IReadOnlyList<TimedInput> inputs)
    {
        json.Texts("inputs", inputs.Select(input => input.Input));
        json.Figure("clockPpm", inputs.Count > 0 ? inputs[0].ClockPpm : null);
        json.Objects(
            "lines",
            inputs.SelectMany((input, place) => input.Lines.Select(line => (Place: place, Line: line))),
            (writer, row) =>
            {
                writer.WriteNumber("input", row.Place);
                LineJson.Write(writer, row.Line);
            });
        json.Objects(
            "assumptions",
            inputs.SelectMany((input, place) => input.Assumptions.Select(text => (Place: place, Text: text))),
            (writer, row) =>
            {
                writer.WriteNumber("input", row.Place);
                writer.Text("text", row.Text);
            });
        json.Objects(
            "cut",
            inputs.Select((input, place) => (Place: place, Text: input.Cut)).Where(each => each.Text.Length > 0),
            (writer, row) =>
            {
                writer.WriteNumber("input", row.Place);
                writer.Text("text", row.Text);
            });
        json.Objects(
            "timing",
            inputs.SelectMany((input, place) => input.Figures.Select(figure => (Place: place, Figure: figure))),
            (writer, row) => Row(writer, row.Place, row.Figure));
    }

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
        json.Figure("mean", figure.Mean);
        json.Figure("deviation", figure.Deviation);
        json.Figure("p5", figure.P5);
        json.Figure("p95", figure.P95);
        json.Figure("p99", figure.P99);
        json.Objects("histogram", figure.Histogram, (writer, bar) =>
        {
            writer.Figure("from", bar.From);
            writer.Figure("to", bar.To);
            writer.WriteNumber("count", bar.Count);
        });
        json.WriteNumber("count", figure.Count);
        json.TextOrNull("role", figure.Role);
        Packets(json, figure.Packets);
        json.Figure("resolution", figure.Resolution);
        json.WriteString("measuredAt", figure.MeasuredAt);
        Limit(json, "transmit", figure.Transmit);
        Limit(json, "receive", figure.Receive);
        json.WriteString("verdict", JsonWords.Of(figure.Verdict));
        json.TextOrNull("undecidedAgainst", figure.UndecidedAgainst);
        json.TextOrNull("note", figure.Note);
    }

    private static void Packets(Utf8JsonWriter json, VerdictCounts? packets)
    {
        if (packets is null)
        {
            json.WriteNull("packets");
            return;
        }

        json.WriteStartObject("packets");
        json.WriteNumber("inside", packets.Inside);
        json.WriteNumber("outsideTransmit", packets.OutsideTransmit);
        json.WriteNumber("outsideReceive", packets.OutsideReceive);
        json.WriteNumber("undecided", packets.Undecided);
        json.WriteEndObject();
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
