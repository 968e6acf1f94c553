using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Survey;

/// <summary>A stretch of time in which the same senders decide a universe.</summary>
/// <param name="From">Start.</param>
/// <param name="To">End.</param>
/// <param name="Senders">
/// Indexes of the senders in charge. None: nobody (all lost or terminated). One: a conforming receiver obeys it. Several:
/// equal claims; what a receiver does then is its own choice and must be in its manual (E1.31-2018 6.2.3; Art-Net merge).
/// </param>
/// <param name="Priority">Their sACN priority; -1 for Art-Net, which has none.</param>
public sealed record ObeyedSpan(Timestamp From, Timestamp To, IReadOnlyList<int> Senders, int Priority)
{
    /// <summary>Indexes of Art-Net senders that are there and take no part: a device merges two at most, and one only after a cancelled merge (Art-Net 4, 1.4dn, pages 50, 76 and 77).</summary>
    public IReadOnlyList<int> Ignored { get; init; } = [];

    /// <summary>True where one sender has sole control because the merge was cancelled (AcCancelMerge).</summary>
    public bool IsMergeCancelled { get; init; }

    /// <summary>How many senders are there: those in charge, and those ignored.</summary>
    public int Present => Senders.Count + Ignored.Count;
}
