using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Network;

/// <summary>
/// Tells packets that the capture shows twice (a mirror of both directions, two interfaces, two VLANs, both sides of a
/// router) from packets that were sent twice, and finds loops. One packet keeps its identification, its UDP checksum and
/// its sequence number; a sender that repeats itself counts the identification on. Asked only where the sequence does not
/// advance.
/// </summary>
internal sealed class RepeatFinder
{
    /// <summary>More of one packet within <see cref="LoopTime"/> is a loop (common practice, no source).</summary>
    public const int MostOfOnePacket = 10;

    /// <summary>Within this a loop brings a packet round more than ten times.</summary>
    public static readonly Duration LoopTime = Duration.FromSeconds(1);

    /// <summary>A copy later than this is a repeat of another kind (common practice, no source).</summary>
    public static readonly Duration LongestCopy = Duration.FromMilliseconds(50);

    private const int LoopPlaces = 1024;
    private readonly Dictionary<int, Repeats> _streams = [];
    private readonly LoopPlace[] _loops = new LoopPlace[LoopPlaces];

    /// <summary>Judges a packet against the one before it.</summary>
    public void Look(in PacketTrace before, in DmxFrame frame)
    {
        CountRounds(in frame);
        if (frame.Sequence == before.Sequence
            && frame.Time - before.Last <= LongestCopy
            && KindOf(in before, in frame) is RepeatKind kind)
        {
            Repeats repeats = Of(frame.Stream);
            if (repeats.FirstRecord == 0)
            {
                repeats.First = frame.Time;
                repeats.FirstRecord = frame.Record;
            }

            repeats.Counts[(int)kind]++;
            repeats.Last = frame.Time;
        }
    }

    /// <summary>What came again on a stream; null when nothing did.</summary>
    public RepeatSnapshot? Snapshot(int stream)
    {
        if (!_streams.TryGetValue(stream, out Repeats? repeats))
        {
            return null;
        }

        Dictionary<RepeatKind, long> counts = [];
        for (int kind = 0; kind < repeats.Counts.Length; kind++)
        {
            if (repeats.Counts[kind] > 0)
            {
                counts.Add((RepeatKind)kind, repeats.Counts[kind]);
            }
        }

        return new RepeatSnapshot(
            counts, repeats.First, repeats.Last, repeats.FirstRecord, repeats.Looped, repeats.LoopFrom, repeats.LoopRecord);
    }

    private static RepeatKind? KindOf(in PacketTrace before, in DmxFrame frame)
    {
        PacketPrint one = before.Print;
        PacketPrint two = frame.Print;
        bool isCounted = (frame.Flags & FrameFlags.SequenceCounted) != 0;
        if (before.Host != frame.Host)
        {
            return isCounted ? RepeatKind.TwoAddresses : null;
        }

        if (one.Identification != two.Identification)
        {
            return isCounted && one.Checksum == two.Checksum ? RepeatKind.SentTwice : null;
        }

        if (one.Identification == 0 && (!isCounted || one.Checksum != two.Checksum))
        {
            return null;
        }

        return one.InterfaceId != two.InterfaceId ? RepeatKind.OtherInterface
            : one.Vlan != two.Vlan ? RepeatKind.OtherVlan
            : one.HopLimit != two.HopLimit ? RepeatKind.Routed
            : one.Identification == 0 ? RepeatKind.Undecided
            : RepeatKind.Mirrored;
    }

    // A place for each packet that came again, found by its number; another packet may take it over. The first arrival is
    // not known to have been special, so the count starts at two.
    private void CountRounds(in DmxFrame frame)
    {
        ulong key = unchecked(
            ((frame.Print.Value >> 32) * 0x9E3779B97F4A7C15)
            ^ ((ulong)frame.Stream << 17)
            ^ ((ulong)frame.Sequence << 8)
            ^ frame.Host);
        ref LoopPlace place = ref _loops[key % LoopPlaces];
        if (place.Key != key || frame.Time - place.From > LoopTime)
        {
            place = new LoopPlace { Key = key, From = frame.Time, Count = 1 };
        }

        if (++place.Count == MostOfOnePacket + 1)
        {
            Repeats repeats = Of(frame.Stream);
            if (repeats.Looped++ == 0)
            {
                repeats.LoopFrom = place.From;
                repeats.LoopRecord = frame.Record;
            }
        }
    }

    private Repeats Of(int stream)
    {
        if (!_streams.TryGetValue(stream, out Repeats? repeats))
        {
            _streams.Add(stream, repeats = new Repeats());
        }

        return repeats;
    }

    private struct LoopPlace
    {
        public ulong Key;
        public Timestamp From;
        public int Count;
    }

    private sealed class Repeats
    {
        public long[] Counts { get; } = new long[(int)RepeatKind.Undecided + 1];

        public Timestamp First { get; set; }

        public Timestamp Last { get; set; }

        public long FirstRecord { get; set; }

        public long Looped { get; set; }

        public Timestamp LoopFrom { get; set; }

        public long LoopRecord { get; set; }
    }
}
