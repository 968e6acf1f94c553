namespace DmxProbe.Analysis.Decoding;

/// <summary>The pairs (universe, sender) met, numbered from 0.</summary>
public sealed class StreamTable
{
    /// <summary>Most universes that hold state; more are counted and said.</summary>
    public const int UniverseCapacity = 4096;
}
