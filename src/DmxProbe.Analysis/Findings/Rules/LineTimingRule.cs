using DmxProbe.Analysis.Decoding.Line;
using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Timing;
using DmxProbe.Analysis.Timing.Line;

namespace DmxProbe.Analysis.Findings.Rules;

/// <summary>Times on a line that are outside their limits, each packet judged by itself.</summary>
internal sealed class LineTimingRule : ISurveyRule
{
    public IEnumerable<Finding> Judge(SurveySnapshot snapshot) =>
        from figure in snapshot.LineFigures
        where figure.Packets is { } packets && packets.OutsideTransmit + packets.OutsideReceive > 0
        select Judge(figure, snapshot);

    private static Finding Judge(TimingMeasurement figure, SurveySnapshot snapshot)
    {
        bool mayFail = figure.Packets!.OutsideReceive > 0;
        // A recording without a date is on no clock with the others.
        LineChannelSummary? own = snapshot.Lines.FirstOrDefault(line => line.Line is { } id && line.First < snapshot.First && figure.Subject.StartsWith(id.Label + " ", StringComparison.Ordinal));
        LimitRange? limit = figure.Transmit ?? figure.Receive;
        return new Finding
        {
            Id = mayFail ? "line-timing-outside-receive" : "line-timing-outside-transmit",
            // Outside a published limit is a fault, whoever still copes with it: the same in timing's exit code.
            Severity = Severity.Fault,
            Subject = figure.Subject,
            Text = LineAnswer.Of(figure, LineTimings.Words(figure.Quantity)),
            Measured = Words.Invariant($"{figure.Min:0.##} to {figure.Max:0.##} {figure.Unit}, median {figure.Median:0.##}, resolution {figure.Resolution:0.###}, {Words.Count(figure.Count, "packet")}"),
            Limit = LineAnswer.Limit(limit, figure.Unit),
            LimitSource = limit?.Source ?? "",
            From = own?.First ?? snapshot.First ?? default,
            To = own is null ? snapshot.Last ?? default : own.First + own.Length,
            Action = "Set the sender's timing to a slower or safer setting if it has one; dmxprobe timing shows every figure.",
        };
    }
}
