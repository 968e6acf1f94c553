using System.Globalization;

using DmxProbe.Analysis.Decoding.Line;
using DmxProbe.Analysis.Timing;
using DmxProbe.Cli.Text;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Cli.Demo;

/// <summary>What timing the stage-left line of the built-in soundcheck must say; what was built into it is in captures/README.md.</summary>
internal static class DemoLine
{
    /// <summary>Measures the embedded recording.</summary>
    public static TimedInput Run(CancellationToken stop)
    {
        using ICaptureSource source = HarbourHall.StageLeft();
        return TimingRun.Of(source.Name, source, LineOptions.Found, against: null, NetworkTiming.DefaultClockPpm, keepsTap: false, stop);
    }

    /// <summary>Holds the figures against what was built into the recording.</summary>
    public static IReadOnlyList<DemoAnswer> Answers(TimedInput line)
    {
        TimingMeasurement[] outside = [.. line.Figures.Where(TimingText.IsOutside)];
        return
        [
            new("Which limits does the stage-left line break?", "markAfterBreak: outsideTransmit", Limits(outside)),
            new("By how much, and in how many packets?", "3.1 us in 90 of 105", By(outside)),
            new("What may a conforming receiver do?", "it must still follow", Receiver(outside)),
        ];
    }

    private static string Limits(TimingMeasurement[] outside) => outside.Length == 0
        ? "none"
        : string.Join(", ", outside.Select(figure => $"{figure.Quantity}: {(figure.Verdict == LimitVerdict.OutsideTransmit ? "outsideTransmit" : "outsideReceive")}"));

    private static string By(TimingMeasurement[] outside) =>
        outside is [{ Transmit.Min: double least, Min: double shortest, Packets: { } packets }]
            ? string.Create(CultureInfo.InvariantCulture, $"{least - shortest:0.0} us in {packets.OutsideTransmit} of {packets.All}")
            : "nothing";

    private static string Receiver(TimingMeasurement[] outside) =>
        outside.Any(figure => figure.Packets is { OutsideReceive: > 0 }) ? "it may fail"
            : outside.Length > 0 && outside.All(figure => figure.Receive is not null) ? "it must still follow"
            : "not known";
}
