namespace DmxProbe.Analysis.Decoding.Line;

/// <summary>A packet in ticks, as its edges gave it; a view, valid until the handler returns.</summary>
internal readonly ref struct LinePacket
{
    /// <summary>START code and slots, at most 513.</summary>
    public required ReadOnlySpan<byte> Octets { get; init; }

    /// <summary>Characters in all; more than the octets where there were more than 512 slots.</summary>
    public required int Characters { get; init; }

    /// <summary>Characters without a stop bit.</summary>
    public required int FramingErrors { get; init; }

    /// <summary>Start of the break.</summary>
    public required long BreakStart { get; init; }

    /// <summary>End of the break.</summary>
    public required long BreakEnd { get; init; }

    /// <summary>Start bit of the START code.</summary>
    public required long FirstStart { get; init; }

    /// <summary>Start bit of the last character.</summary>
    public required long LastStart { get; init; }

    /// <summary>Start of the next break; -1 where none follows.</summary>
    public required long NextBreak { get; init; }

    /// <summary>True where the recording ends or breaks off inside it.</summary>
    public required bool IsCut { get; init; }

    /// <summary>Least time between two start bits; meaningful with two characters or more.</summary>
    public required long LeastSpacing { get; init; }

    /// <summary>Greatest time between two start bits.</summary>
    public required long MostSpacing { get; init; }

    /// <summary>Pulses inside its characters.</summary>
    public required PulseWidths Widths { get; init; }

    /// <summary>What it is.</summary>
    public required LinePacketKind Kind { get; init; }

    /// <summary>Ticks since the packet before ended; -1 for the first.</summary>
    public required double SincePrevious { get; init; }

    /// <summary>What came before.</summary>
    public required LinePrevious Previous { get; init; }
}
