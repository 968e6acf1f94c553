using System.Runtime.CompilerServices;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Network;

/// <summary>
/// Tells packets that the capture shows twice (a mirror of both directions, two interfaces, two VLANs, both sides of a
/// router) from packets that were sent twice, and finds loops. One packet keeps its identification, its UDP checksum and
/// its sequence number; a sender that repeats itself counts the identification on. Looks only where the sequence does not
/// advance.
/// </summary>
public sealed class RepeatAnalyzer : IAnalyzer
{
    /// <summary>More of one packet within <see cref="LoopTime"/> is a loop (common practice, no source).</summary>
    public const int MostOfOnePacket = 10;

    /// <summary>Within this a loop brings a packet round more than ten times.</summary>
    public static readonly Duration LoopTime = Duration.FromSeconds(1);

    /// <summary>A copy later than this is a repeat of another kind (common practice, no source).</summary>
    public static readonly Duration LongestCopy = Duration.FromMilliseconds(50);

    private const int LoopPlaces = 1024;
    private readonly PerIndex<Track> _tracks = new();
    private readonly LoopPlace[] _loops = new LoopPlace[LoopPlaces];

    /// <inheritdoc/>
    public void OnFrame(in DmxFrame frame)
    {
        if (frame.Print.Value == 0 || (frame.StartCode != 0 && frame.Universe.Protocol == UniverseProtocol.ArtNet))
        {
            return;
        }

        ref Track track = ref _tracks[frame.Stream];
        bool advances = (frame.Flags & FrameFlags.SequenceCounted) != 0
            ? unchecked((sbyte)(byte)(frame.Sequence - track.Sequence)) > 0
            : frame.Print.Identification == 0 || unchecked((short)(frame.Print.Identification - track.Print.Identification)) > 0;
        if (!advances && track.Print.Value != 0)
        {
            Look(ref track, in frame);
        }

        track.Print = frame.Print;
        track.Last = frame.Time;
        track.Source = frame.Host;
        track.Sequence = frame.Sequence;
    }

    /// <inheritdoc/>
    public void OnEvent(in LinkEvent linkEvent)
    {
    }

    /// <inheritdoc/>
    public void OnTime(Timestamp now)
    {
    }

    /// <summary>What came again on a stream; null when nothing did.</summary>
    public RepeatSnapshot? Snapshot(int stream)
    {
        if (stream >= _tracks.Count || _tracks[stream].Repeats is not Repeats repeats)
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

    [MethodImpl(MethodImplOptions.NoInlining)]
    private void Look(ref Track track, in DmxFrame frame)
    {
        CountRounds(ref track, in frame);
        if (frame.Sequence != track.Sequence || frame.Time - track.Last > LongestCopy)
        {
            return;
        }

        RepeatKind? kind = KindOf(in track, in frame);
        if (kind is not null)
        {
            Repeats repeats = track.Repeats ??= new Repeats();
            if (repeats.FirstRecord == 0)
            {
                repeats.First = frame.Time;
                repeats.FirstRecord = frame.Record;
            }

            repeats.Counts[(int)kind.Value]++;
            repeats.Last = frame.Time;
        }
    }

    private static RepeatKind? KindOf(in Track track, in DmxFrame frame)
    {
        PacketPrint one = track.Print;
        PacketPrint two = frame.Print;
        bool isCounted = (frame.Flags & FrameFlags.SequenceCounted) != 0;
        if (track.Source != frame.Host)
        {
            return isCounted ? RepeatKind.TwoAddresses : null;
        }

        if (one.Identification != two.Identification)
        {
            return isCounted && one.Checksum == two.Checksum ? RepeatKind.SentTwice : null;
        }

        if (one.Identification == 0 && one.Checksum != two.Checksum)
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
    private void CountRounds(ref Track track, in DmxFrame frame)
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
            Repeats repeats = track.Repeats ??= new Repeats();
            if (repeats.Looped++ == 0)
            {
                repeats.LoopFrom = place.From;
                repeats.LoopRecord = frame.Record;
            }
        }
    }

    private struct Track
    {
        public PacketPrint Print;
        public Timestamp Last;
        public Repeats? Repeats;
        public uint Source;
        public byte Sequence;
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
