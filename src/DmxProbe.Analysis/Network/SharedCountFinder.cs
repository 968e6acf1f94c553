using DmxProbe.Analysis.Decoding;

namespace DmxProbe.Analysis.Network;

/// <summary>
/// Finds senders that number all their packets with one count instead of one for each universe (E1.31-2018 section 6.2.5):
/// universe by universe their numbers have gaps, and each follows the number that the same sender used last elsewhere.
/// Asked only at gaps.
/// </summary>
internal sealed class SharedCountFinder
{
    private readonly Dictionary<int, long> _streams = [];

    /// <summary>Notes a gap in the numbers of a stream.</summary>
    /// <param name="frame">The frame behind the gap.</param>
    /// <param name="senderBefore">Sender of the frame before it, of whatever universe.</param>
    /// <param name="sequenceBefore">Number of that frame.</param>
    public void Gap(in DmxFrame frame, int senderBefore, byte sequenceBefore)
    {
        if (senderBefore == frame.Sender && unchecked((byte)(sequenceBefore + 1)) == frame.Sequence)
        {
            _streams[frame.Stream] = _streams.GetValueOrDefault(frame.Stream) + 1;
        }
    }

    /// <summary>
    /// Gaps of a stream at which the number follows that of the sender's packet just before. A few say nothing: universes
    /// counted in step look so wherever a packet is lost.
    /// </summary>
    public long Follows(int stream) => _streams.GetValueOrDefault(stream);
}
