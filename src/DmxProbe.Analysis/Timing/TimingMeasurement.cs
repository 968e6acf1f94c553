using DmxProbe.Analysis.Decoding;

namespace DmxProbe.Analysis.Timing;

/// <summary>One quantity of one sender, measured and held against its limits.</summary>
public sealed record TimingMeasurement
{
    /// <summary>What was measured: universe label and sender.</summary>
    public required string Subject { get; init; }

    /// <summary>The protocol it came by.</summary>
    public required UniverseProtocol Protocol { get; init; }

    /// <summary>START code of the frames measured.</summary>
    public int StartCode { get; init; }

    /// <summary>The quantity in the words of docs/json.md: <c>refreshRate</c>, <c>silence</c>, <c>keepAlive</c>, <c>slotCount</c>, <c>break</c> ...</summary>
    public required string Quantity { get; init; }

    /// <summary>Unit of the figures: <c>Hz</c>, <c>ms</c>, <c>us</c>, <c>slots</c>.</summary>
    public required string Unit { get; init; }

    /// <summary>Least value; null when not measurable.</summary>
    public double? Min { get; init; }

    /// <summary>Median; null when not measurable.</summary>
    public double? Median { get; init; }

    /// <summary>Greatest value; null when not measurable.</summary>
    public double? Max { get; init; }

    /// <summary>Mean; null where it is not told.</summary>
    public double? Mean { get; init; }

    /// <summary>Standard deviation; null where it is not told.</summary>
    public double? Deviation { get; init; }

    /// <summary>5th percentile; null where it is not told.</summary>
    public double? P5 { get; init; }

    /// <summary>95th percentile; null where it is not told.</summary>
    public double? P95 { get; init; }

    /// <summary>99th percentile; null where it is not told.</summary>
    public double? P99 { get; init; }

    /// <summary>Histogram; empty where it is not told.</summary>
    public IReadOnlyList<DistributionBar> Histogram { get; init; } = [];

    /// <summary>In how many packets it stood how; null where packets were not judged one by one.</summary>
    public VerdictCounts? Packets { get; init; }

    /// <summary>Whose limits: transmitter, receiver, test-packet, rdm-controller, rdm-responder; empty for a network.</summary>
    public string Role { get; init; } = "";

    /// <summary>How many single measurements stand behind it.</summary>
    public long Count { get; init; }

    /// <summary>Resolution in the same unit; null when it has none of its own.</summary>
    public double? Resolution { get; init; }

    /// <summary>What <see cref="Min"/> may be off by: one sample period and the clock's error, in the same unit, 0 or more.</summary>
    public double MinUncertainty { get; init; }

    /// <summary>What <see cref="Max"/> may be off by.</summary>
    public double MaxUncertainty { get; init; }

    /// <summary>True where the reading itself is in doubt, so that the figure is shown and held against nothing.</summary>
    public bool IsUnjudged { get; init; }

    /// <summary>Where: <c>network</c>, <c>usb</c>, <c>uart</c>, <c>edges</c>.</summary>
    public required string MeasuredAt { get; init; }

    /// <summary>Transmit limits; null when there are none.</summary>
    public LimitRange? Transmit { get; init; }

    /// <summary>Receive limits; null when there are none.</summary>
    public LimitRange? Receive { get; init; }

    /// <summary>How it stands.</summary>
    public required LimitVerdict Verdict { get; init; }

    /// <summary>For <see cref="LimitVerdict.Undecided"/>: against which limit; else empty.</summary>
    public string UndecidedAgainst { get; init; } = "";

    /// <summary>A remark a person needs to read the figure rightly; empty when none.</summary>
    public string Note { get; init; } = "";
}
