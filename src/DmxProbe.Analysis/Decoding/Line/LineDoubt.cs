namespace DmxProbe.Analysis.Decoding.Line;

/// <summary>Why what was read from a channel may not be what was sent: then no verdict rests on it.</summary>
public enum LineDoubt
{
    /// <summary>Nothing speaks against it.</summary>
    None,

    /// <summary>The polarity told reads worse than the other one.</summary>
    Polarity,

    /// <summary>Packets do not begin as DMX512 does: not 250 kbit/s, or the sampling rate is wrong.</summary>
    Rate,

    /// <summary>Short pulses stand in many packets.</summary>
    Disturbed,
}
