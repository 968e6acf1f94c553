namespace DmxProbe.Analysis.Decoding.Line;

/// <summary>Characters that came without a break; a view, valid until the handler returns.</summary>
internal readonly ref struct LineUnbroken
{
    /// <summary>The first of them, at most as many as an answer to discovery has.</summary>
    public required ReadOnlySpan<byte> Octets { get; init; }

    /// <summary>All of them.</summary>
    public required int Characters { get; init; }

    /// <summary>Those without a stop bit.</summary>
    public required int FramingErrors { get; init; }

    /// <summary>Start bit of the first.</summary>
    public required long Start { get; init; }

    /// <summary>Ticks since the packet before ended.</summary>
    public required double SincePrevious { get; init; }

    /// <summary>What came before.</summary>
    public required LinePrevious Previous { get; init; }
}
