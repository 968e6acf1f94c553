using System.Runtime.CompilerServices;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Network;

/// <summary>
/// The network's behaviour. A packet that follows the one before it in number and time, as nearly all do, costs one look
/// at one small entry; only others are handed to what judges them.
/// </summary>
public sealed class NetworkAnalyzer : IAnalyzer
{
    private readonly GroupAnalyzer _groups = new();
    private readonly AddressAnalyzer _addresses = new();
    private readonly FragmentAnalyzer _fragments = new();
    private readonly RepeatFinder _repeats = new();
    private readonly BurstFinder _bursts = new();
    private readonly SharedCountFinder _sharedCounts = new();
    private readonly PerIndex<PacketTrace> _traces = new();
    private Timestamp _deafUntil = Timestamp.MinValue;
    private int _senderBefore = -1;
    private byte _sequenceBefore;
    private bool _seesNetwork;

    /// <inheritdoc/>
    public void OnFrame(in DmxFrame frame)
    {
        if (frame.Print.Value == 0)
        {
            return; // by no network
        }

        ref PacketTrace trace = ref _traces[frame.Stream];
        Duration interval = frame.Time - trace.Last;
        if (unchecked((byte)(frame.Sequence - trace.Sequence)) != 1 || interval > BurstFinder.Gap || trace.Heap != 0)
        {
            if (frame.StartCode != 0 && frame.Universe.Protocol == UniverseProtocol.ArtNet)
            {
                return; // ArtNzs has a count of its own
            }

            Look(ref trace, in frame, interval);
        }

        trace.Print = frame.Print;
        trace.Last = frame.Time;
        trace.Host = frame.Host;
        trace.Sequence = frame.Sequence;
        _senderBefore = frame.Sender;
        _sequenceBefore = frame.Sequence;
    }

    /// <inheritdoc/>
    public void OnEvent(in LinkEvent linkEvent)
    {
        if (linkEvent.Kind == LinkEventKind.CaptureLoss)
        {
            // What the capture itself held back or lost is not the network's doing.
            _deafUntil = linkEvent.Time;
            _groups.OnEvent(in linkEvent);
        }
    }

    /// <inheritdoc/>
    public void OnNetworkPacket(in NetworkPacket packet)
    {
        _seesNetwork |= packet.Kind != NetworkPacketKind.Fragment;
        _groups.OnNetworkPacket(in packet);
        _addresses.OnNetworkPacket(in packet);
        _fragments.OnNetworkPacket(in packet);
    }

    /// <inheritdoc/>
    public void OnTime(Timestamp now)
    {
    }

    /// <summary>What came again on a stream; null when nothing did.</summary>
    public RepeatSnapshot? Repeats(int stream) => _repeats.Snapshot(stream);

    /// <summary>The bursts of a stream.</summary>
    public BurstSnapshot Bursts(int stream) => _bursts.Snapshot(stream);

    /// <summary>Gaps of a stream at which the number follows that of the sender's packet just before.</summary>
    public long FollowsOverUniverses(int stream) => _sharedCounts.Follows(stream);

    /// <summary>What is known of the network itself.</summary>
    public NetworkSummary Snapshot() => new()
    {
        Groups = _groups.Snapshot(),
        Conflicts = _addresses.Snapshot(),
        ArpPackets = _addresses.Packets,
        Fragments = _fragments.Snapshot(),
        SeesNetwork = _seesNetwork,
    };

    /// <summary>Whether a frame just taken is what the next one of its stream is looked at against, with no heap going on.</summary>
    internal bool Follows(in DmxFrame frame)
    {
        ref PacketTrace trace = ref _traces[frame.Stream];
        return frame.Print.Value != 0 && trace.Heap == 0 && trace.Sequence == frame.Sequence && trace.Last == frame.Time;
    }

    /// <summary>A frame that a stream that runs was sent: what a gap in the numbers of any other is looked at against.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal void Passed(int sender, byte sequence)
    {
        _senderBefore = sender;
        _sequenceBefore = sequence;
    }

    /// <summary>Takes frames of a stream that followed each other in number and time and came from the same address.</summary>
    internal void Ran(int stream, PacketPrint print, byte sequence, Timestamp last)
    {
        ref PacketTrace trace = ref _traces[stream];
        trace.Print = print;
        trace.Last = last;
        trace.Sequence = sequence;
    }

    [MethodImpl(MethodImplOptions.NoInlining)]
    private void Look(ref PacketTrace trace, in DmxFrame frame, Duration interval)
    {
        if (trace.Print.Value == 0)
        {
            return; // the first one: nothing came before
        }

        bool isCounted = (frame.Flags & FrameFlags.SequenceCounted) != 0;
        int step = unchecked((sbyte)(byte)(frame.Sequence - trace.Sequence));
        bool comesAgain = isCounted
            ? step <= 0
            : frame.Print.Identification != 0
                && unchecked((short)(frame.Print.Identification - trace.Print.Identification)) <= 0;
        if (comesAgain)
        {
            _repeats.Look(in trace, in frame);
        }
        else if (isCounted && step > 1)
        {
            _sharedCounts.Gap(in frame, _senderBefore, _sequenceBefore);
        }

        if (trace.Heap != 0 || (interval > BurstFinder.Gap && trace.Last >= _deafUntil))
        {
            _bursts.Look(ref trace, in frame, interval);
        }
    }
}
