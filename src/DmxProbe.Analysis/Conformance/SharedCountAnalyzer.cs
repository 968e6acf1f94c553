using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Conformance;

/// <summary>
/// Finds senders that number all their packets with one count instead of one for each universe (E1.31-2018 section 6.2.5):
/// taken together their numbers follow each other, universe by universe they have gaps.
/// </summary>
public sealed class SharedCountAnalyzer : IAnalyzer
{
    private readonly PerIndex<Track> _senders = new();

    /// <inheritdoc/>
    public void OnFrame(in DmxFrame frame)
    {
        if ((frame.Flags & FrameFlags.SequenceCounted) == 0)
        {
            return;
        }

        ref Track track = ref _senders[frame.Sender];
        track.Follows += frame.Sequence == unchecked((byte)(track.Last + 1)) ? 1 : 0;
        track.Count++;
        track.Last = frame.Sequence;
    }

    /// <inheritdoc/>
    public void OnEvent(in LinkEvent linkEvent)
    {
    }

    /// <inheritdoc/>
    public void OnTime(Timestamp now)
    {
    }

    /// <summary>The share of a sender's packets that carry the number after that of its packet before, whatever the universe; 0 when it sent none.</summary>
    public double ShareThatFollows(int sender) =>
        sender < _senders.Count && _senders[sender].Count > 0 ? (double)_senders[sender].Follows / _senders[sender].Count : 0;

    private struct Track
    {
        public long Follows;
        public long Count;
        public byte Last;
    }
}
