using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>
/// The levels that stand on the wire right now, by universe. Fed by one thread, asked by another. Of several senders those of the
/// highest priority count, and of these the highest level of each slot; what a receiver really does with two senders is not
/// known here.
/// </summary>
public sealed class LatestLevels : IAnalyzer
{
    // The longest time-out of the protocols: a sender that is still meant to be there has been heard within it.
    private static readonly Duration Longest = Duration.FromSeconds(10);

    private readonly Lock _gate = new();
    private readonly Dictionary<int, Stream> _streams = [];
    private readonly HashSet<UniverseId> _heard = [];
    private Timestamp _now = Timestamp.MinValue;

    /// <inheritdoc/>
    public void OnFrame(in DmxFrame frame)
    {
        if (frame.StartCode != 0 || (frame.Flags & (FrameFlags.Preview | FrameFlags.Damaged)) != 0)
        {
            return;
        }

        lock (_gate)
        {
            _now = frame.Time > _now ? frame.Time : _now;
            if ((frame.Flags & FrameFlags.Terminated) != 0)
            {
                _streams.Remove(frame.Stream);
                return;
            }

            if (!_streams.TryGetValue(frame.Stream, out Stream? stream))
            {
                _streams.Add(frame.Stream, stream = new Stream(frame.Universe));
                _heard.Add(frame.Universe);
            }

            stream.Time = frame.Time;
            stream.Priority = frame.Priority;
            frame.Slots[..Math.Min(frame.Slots.Length, SlotHistory.SlotCount)].CopyTo(stream.Levels);
        }
    }

    /// <inheritdoc/>
    public void OnEvent(in LinkEvent linkEvent)
    {
        // Only levels count.
    }

    /// <inheritdoc/>
    public void OnTime(Timestamp now)
    {
        lock (_gate)
        {
            _now = now > _now ? now : _now;
        }
    }

    /// <summary>The 512 levels of a universe; null where no sender of it was heard within 10 s.</summary>
    public byte[]? Of(UniverseId universe)
    {
        lock (_gate)
        {
            Stream[] heard = [.. _streams.Values.Where(stream => stream.Universe == universe && _now - stream.Time <= Longest)];
            if (heard.Length == 0)
            {
                return null;
            }

            int priority = heard.Max(stream => stream.Priority);
            byte[] levels = new byte[SlotHistory.SlotCount];
            foreach (Stream stream in heard.Where(stream => stream.Priority == priority))
            {
                for (int i = 0; i < levels.Length; i++)
                {
                    levels[i] = Math.Max(levels[i], stream.Levels[i]);
                }
            }

            return levels;
        }
    }

    /// <summary>How many senders of a universe, heard within 10 s, share its highest priority; more than one: receivers choose.</summary>
    public int Deciding(UniverseId universe)
    {
        lock (_gate)
        {
            Stream[] heard = [.. _streams.Values.Where(stream => stream.Universe == universe && _now - stream.Time <= Longest)];
            return heard.Count(stream => stream.Priority == heard.Max(each => each.Priority));
        }
    }

    /// <summary>Whether a universe was heard and nobody sends it any more: every sender ended, or was silent for its protocol's loss time.</summary>
    public bool FellSilent(UniverseId universe)
    {
        lock (_gate)
        {
            return _heard.Contains(universe) &&
                !_streams.Values.Any(stream => stream.Universe == universe && _now - stream.Time <= ProtocolTimes.LossOf(universe.Protocol));
        }
    }

    private sealed class Stream(UniverseId universe)
    {
        public UniverseId Universe { get; } = universe;

        public Timestamp Time { get; set; }

        public int Priority { get; set; }

        public byte[] Levels { get; } = new byte[SlotHistory.SlotCount];
    }
}
