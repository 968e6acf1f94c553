namespace DmxProbe.Protocols.Line;

/// <summary>What must be known about an <see cref="EdgeRun"/> besides its edges.</summary>
[Flags]
public enum EdgeRunFlags : byte
{
    /// <summary>Goes on exactly where the run before it on this channel ended.</summary>
    None = 0,

    /// <summary>Samples are missing before it (or it is the first): nothing may be measured across its start.</summary>
    Gap = 1,

    /// <summary>The recording of this channel ends with it.</summary>
    Last = 2,
}
