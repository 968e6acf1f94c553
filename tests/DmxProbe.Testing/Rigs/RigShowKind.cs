namespace DmxProbe.Testing.Rigs;

/// <summary>What runs on the rig.</summary>
public enum RigShowKind
{
    /// <summary>A cue every 2 s + Exp(2 s), fades 0 to 0.5 s, chases.</summary>
    Busy,

    /// <summary>A cue every 2 s + Exp(10 s), fades 0, 1 or 3 s.</summary>
    Cued,

    /// <summary>One unit after the other is worked by hand.</summary>
    Soundcheck,
}
