using DmxProbe.Analysis.Timing;
using DmxProbe.Reporting.Json;

namespace DmxProbe.Reporting.Tables;

/// <summary>The table <c>measurements</c>: every figure of <c>timing</c> with its limits and verdict.</summary>
public static class MeasurementTable
{
    /// <summary>The table.</summary>
    public static TableSpec Spec { get; } = new(
        "measurements",
        "one quantity of one sender or line, measured and held against its limits",
        [
            new("input", ColumnKind.Text, "the input as it was named"),
            new("subject", ColumnKind.Text, "universe and sender, or line"),
            new("protocol", ColumnKind.Text, "sacn, artnet, line or serial"),
            new("startCode", ColumnKind.Whole, "START code of the frames measured"),
            new("quantity", ColumnKind.Text, "what was measured, in the words of docs/json.md"),
            new("unit", ColumnKind.Text, "unit of the figures and limits of this row"),
            new("min", ColumnKind.Figure, "smallest"),
            new("p5", ColumnKind.Figure, "a twentieth of the values is below"),
            new("median", ColumnKind.Figure, "half of the values are below"),
            new("mean", ColumnKind.Figure, "mean"),
            new("p95", ColumnKind.Figure, "a twentieth of the values is above"),
            new("p99", ColumnKind.Figure, "a hundredth of the values is above"),
            new("max", ColumnKind.Figure, "largest"),
            new("count", ColumnKind.Whole, "how many values stand behind the figures"),
            new("resolution", ColumnKind.Figure, "smallest difference that can be measured here; none where it is not known"),
            new("measuredAt", ColumnKind.Text, "edges, uart, usb or network"),
            new("transmitMin", ColumnKind.Figure, "lower limit for who sends; none where there is none"),
            new("transmitMax", ColumnKind.Figure, "upper limit for who sends"),
            new("transmitSource", ColumnKind.Text, "where that is from, and how it is known"),
            new("receiveMin", ColumnKind.Figure, "lower end of what a receiver has to accept"),
            new("receiveMax", ColumnKind.Figure, "upper end of what a receiver has to accept"),
            new("receiveSource", ColumnKind.Text, "where that is from, and how it is known"),
            new("verdict", ColumnKind.Text, "inside, outsideTransmit, outsideReceive, undecided or notMeasurable"),
            new("note", ColumnKind.Text, "what else is to be known"),
        ]);

    /// <summary>Writes the figures of several inputs.</summary>
    /// <param name="table">Where to; a writer of <see cref="Spec"/>.</param>
    /// <param name="inputs">The inputs.</param>
    public static void Write(TableWriter table, IEnumerable<TimedInput> inputs)
    {
        ArgumentNullException.ThrowIfNull(table);
        ArgumentNullException.ThrowIfNull(inputs);
        foreach (TimedInput input in inputs)
        {
            foreach (TimingMeasurement figure in input.Figures)
            {
                Row(table, input.Input, figure);
            }
        }
    }

    private static void Row(TableWriter table, string input, TimingMeasurement figure)
    {
        table.Text(input);
        table.Text(figure.Subject);
        table.Text(JsonWords.Of(figure.Protocol));
        table.Whole(figure.StartCode);
        table.Text(figure.Quantity);
        table.Text(figure.Unit);
        table.Figure(figure.Min);
        table.Figure(figure.P5);
        table.Figure(figure.Median);
        table.Figure(figure.Mean);
        table.Figure(figure.P95);
        table.Figure(figure.P99);
        table.Figure(figure.Max);
        table.Whole(figure.Count);
        table.Figure(figure.Resolution);
        table.Text(figure.MeasuredAt);
        Limit(table, figure.Transmit);
        Limit(table, figure.Receive);
        table.Text(JsonWords.Of(figure.Verdict));
        table.Text(figure.Note);
        table.EndRow();
    }

    private static void Limit(TableWriter table, LimitRange? limit)
    {
        table.Figure(limit?.Min);
        table.Figure(limit?.Max);
        table.Text(limit?.Source);
    }
}
