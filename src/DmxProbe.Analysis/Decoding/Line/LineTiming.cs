using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Decoding.Line;

/// <summary>
/// The times of one packet as its edges show them. Figures are in microseconds; NaN where the packet or the recording
/// does not show one. Each edge is known to one sample, so a time between two edges is too.
/// </summary>
public readonly record struct LineTiming
{
    /// <summary>Start of the break; of a discovery reply the start of its first octet.</summary>
    public required Timestamp Time { get; init; }

    /// <summary>Record that holds the start of the break.</summary>
    public required long Record { get; init; }

    /// <summary>The universe: which line.</summary>
    public required UniverseId Universe { get; init; }

    /// <summary>Its index in <see cref="StreamTable"/>.</summary>
    public required int UniverseIndex { get; init; }

    /// <summary>What was sent.</summary>
    public required LinePacketKind Kind { get; init; }

    /// <summary>START code; 0 for a discovery reply.</summary>
    public byte StartCode { get; init; }

    /// <summary>One sample period of the recording.</summary>
    public required double SamplePeriod { get; init; }

    /// <summary>True where the recording ends or has a gap inside the packet: slots are missing.</summary>
    public bool IsCut { get; init; }

    /// <summary>Characters, the START code included.</summary>
    public int Characters { get; init; }

    /// <summary>Characters whose stop bit was missing.</summary>
    public int FramingErrors { get; init; }

    /// <summary>True where pulses too short for a bit stand in it, or a slot too many begins between bits: its characters are not sure.</summary>
    public bool IsDisturbed { get; init; }

    /// <summary>Length of the break.</summary>
    public double Break { get; init; }

    /// <summary>Mark after break.</summary>
    public double MarkAfterBreak { get; init; }

    /// <summary>Mark from the end of the last slot to the next break; NaN where nothing follows.</summary>
    public double MarkBeforeBreak { get; init; }

    /// <summary>From the start of this break to the start of the next; NaN where none follows.</summary>
    public double BreakToBreak { get; init; }

    /// <summary>From the start of the break to the end of the last slot's stop bits.</summary>
    public double Length { get; init; }

    /// <summary>Least mark between two slots beyond their stop bits.</summary>
    public double InterSlotLeast { get; init; }

    /// <summary>Mean of them.</summary>
    public double InterSlotMean { get; init; }

    /// <summary>Greatest of them.</summary>
    public double InterSlotMost { get; init; }

    /// <summary>Mean bit time over the packet.</summary>
    public double BitTime { get; init; }

    /// <summary>How finely <see cref="BitTime"/> is known: one sample spread over the bits measured.</summary>
    public double BitTimeResolution { get; init; }

    /// <summary>Single low bit less single high bit, mean; NaN where the slots hold no high bit between low ones.</summary>
    public double Skew { get; init; }

    /// <summary>Mark since the end of the packet before; NaN for the first.</summary>
    public double SincePrevious { get; init; }

    /// <summary>What the packet before was; meaningful where <see cref="SincePrevious"/> is a number.</summary>
    public LinePacketKind Previous { get; init; }

    /// <summary>True where the packet before asked for an answer of one device (not broadcast).</summary>
    public bool PreviousWantsAnswer { get; init; }

    /// <summary>True where the packet before was DISC_UNIQUE_BRANCH.</summary>
    public bool PreviousIsDiscovery { get; init; }
}
