using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Network;

/// <summary>The analyzers of the network's behaviour, fed as one.</summary>
public sealed class NetworkAnalyzer : IAnalyzer
{
    private readonly GroupAnalyzer _groups = new();
    private readonly AddressAnalyzer _addresses = new();
    private readonly FragmentAnalyzer _fragments = new();
    private readonly RepeatAnalyzer _repeats = new();
    private readonly BurstAnalyzer _bursts = new();
    private bool _seesNetwork;

    /// <inheritdoc/>
    public void OnFrame(in DmxFrame frame)
    {
        if (frame.Universe.Protocol is UniverseProtocol.Sacn or UniverseProtocol.ArtNet)
        {
            _repeats.OnFrame(in frame);
            _bursts.OnFrame(in frame);
        }
    }

    /// <inheritdoc/>
    public void OnEvent(in LinkEvent linkEvent)
    {
        if (linkEvent.Kind == LinkEventKind.CaptureLoss)
        {
            _groups.OnEvent(in linkEvent);
            _bursts.OnEvent(in linkEvent);
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

    /// <summary>What is known of the network itself.</summary>
    public NetworkSummary Snapshot() => new()
    {
        Groups = _groups.Snapshot(),
        Conflicts = _addresses.Snapshot(),
        ArpPackets = _addresses.Packets,
        Fragments = _fragments.Snapshot(),
        SeesNetwork = _seesNetwork,
    };
}
