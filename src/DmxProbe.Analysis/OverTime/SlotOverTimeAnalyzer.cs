using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.OverTime;

/// <summary>The levels of a few neighbouring slots of one universe, span by span, for each sender by itself (at most <see cref="MostSenders"/>).</summary>
/// <param name="universe">The universe.</param>
/// <param name="first">First slot, 1 to 512.</param>
/// <param name="count">Slots.</param>
public sealed class SlotOverTimeAnalyzer(UniverseId universe, int first, int count) : IAnalyzer
{
    /// <summary>Most senders followed.</summary>
    public const int MostSenders = 4;

    private const FrameFlags NoLevels = FrameFlags.Terminated | FrameFlags.SlotsCut | FrameFlags.Damaged;
    private readonly TimeBins _bins = new();
    private readonly List<Track> _tracks = [];
    private bool _listens;

    /// <summary>The universe.</summary>
    public UniverseId Universe { get; } = universe;

    /// <summary>The spans.</summary>
    public TimeBins Bins => _bins;

    /// <inheritdoc/>
    public void OnFrame(in DmxFrame frame)
    {
        if (!_listens)
        {
            _bins.OnMerge(Merge);
            _listens = true;
        }

        // Every frame moves the spans on, so that all histories of a recording have the same ones.
        int bin = _bins.Of(frame.Time);
        if (frame.Universe != Universe || frame.StartCode != 0 || (frame.Flags & NoLevels) != 0 || Find(frame.Sender) is not Track track)
        {
            return;
        }

        for (int place = 0; place < count && first - 1 + place < frame.Slots.Length; place++)
        {
            byte level = frame.Slots[first - 1 + place];
            ref short low = ref track.Low[place][bin];
            ref short high = ref track.High[place][bin];
            low = low < 0 || level < low ? level : low;
            high = high < 0 || level > high ? level : high;
            track.Last[place][bin] = level;
        }
    }

    /// <inheritdoc/>
    public void OnEvent(in LinkEvent linkEvent)
    {
    }

    /// <inheritdoc/>
    public void OnTime(Timestamp now)
    {
    }

    /// <summary>What was seen so far; the busiest sender's slots first.</summary>
    /// <param name="senders">Who the senders are.</param>
    public IReadOnlyList<SlotOverTime> Snapshot(SenderTable senders)
    {
        ArgumentNullException.ThrowIfNull(senders);
        List<SlotOverTime> found = [];
        foreach (Track track in _tracks)
        {
            for (int place = 0; place < count; place++)
            {
                int?[] low = Held(track.Low[place], track.Last[place]);
                if (Array.Exists(low, level => level is not null))
                {
                    found.Add(new SlotOverTime(senders.Describe(track.Sender), first + place, low, Held(track.High[place], track.Last[place])));
                }
            }
        }

        return found;
    }

    // A span without frames holds the last level of the spans before it.
    private int?[] Held(short[] values, short[] last)
    {
        int?[] held = new int?[_bins.Count];
        int? before = null;
        for (int bin = 0; bin < held.Length; bin++)
        {
            held[bin] = values[bin] >= 0 ? values[bin] : before;
            before = last[bin] >= 0 ? last[bin] : before;
        }

        return held;
    }

    private Track? Find(int sender)
    {
        Track? known = _tracks.Find(track => track.Sender == sender);
        if (known is null && _tracks.Count < MostSenders)
        {
            known = new Track(sender, count);
            _tracks.Add(known);
        }

        return known;
    }

    private void Merge()
    {
        foreach (Track track in _tracks)
        {
            for (int place = 0; place < count; place++)
            {
                Halve(track.Low[place], Math.Min);
                Halve(track.High[place], Math.Max);
                Halve(track.Last[place], (_, later) => later);
            }
        }
    }

    private static void Halve(short[] values, Func<short, short, short> ofTwo)
    {
        for (int bin = 0; bin < values.Length; bin++)
        {
            values[bin] = bin >= values.Length / 2 ? (short)-1 : Of(values[2 * bin], values[(2 * bin) + 1], ofTwo);
        }
    }

    private static short Of(short one, short other, Func<short, short, short> ofTwo) =>
        one < 0 ? other : other < 0 ? one : ofTwo(one, other);

    private sealed class Track
    {
        public Track(int sender, int count)
        {
            Sender = sender;
            Low = [.. Enumerable.Range(0, count).Select(_ => Empty())];
            High = [.. Enumerable.Range(0, count).Select(_ => Empty())];
            Last = [.. Enumerable.Range(0, count).Select(_ => Empty())];
        }

        public int Sender { get; }

        public short[][] Low { get; }

        public short[][] High { get; }

        public short[][] Last { get; }

        private static short[] Empty()
        {
            short[] values = new short[TimeBins.Most];
            Array.Fill(values, (short)-1);
            return values;
        }
    }
}
