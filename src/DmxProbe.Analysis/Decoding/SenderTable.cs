namespace DmxProbe.Analysis.Decoding;

/// <summary>Who sent what, as an index that is turned into words only when shown.</summary>
public sealed class SenderTable
{
    /// <summary>Most senders that hold state; more are counted and said.</summary>
    public const int Capacity = 4096;
}
