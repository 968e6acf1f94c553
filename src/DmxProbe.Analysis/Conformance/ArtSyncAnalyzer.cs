using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Net;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Conformance;

/// <summary>
/// ArtSync against ArtDmx (Art-Net 4, 1.4dn, pages 77 to 79): a device ignores ArtSync from another address than that of
/// its last ArtDmx, and acts at once again when none came for 4 s.
/// </summary>
public sealed class ArtSyncAnalyzer : IAnalyzer
{
    private const int MostSources = 64;
    private static readonly Duration SyncLoss = Duration.FromSeconds(4);
    private readonly List<Source> _sources = [];

    /// <inheritdoc/>
    public void OnFrame(in DmxFrame frame)
    {
        if (frame.Universe.Protocol == UniverseProtocol.ArtNet && frame.StartCode == 0 && Find(frame.Host) is Source source)
        {
            source.LastFrame = frame.Time;
            if (source.Packets > 0 && frame.Time - source.LastSync >= SyncLoss)
            {
                source.StoppedFrom = source.FramesAfterStop++ == 0 ? source.LastSync + SyncLoss : source.StoppedFrom;
            }
        }
    }

    /// <inheritdoc/>
    public void OnEvent(in LinkEvent linkEvent)
    {
        if (linkEvent.Kind == LinkEventKind.ArtSync && Find(unchecked((uint)linkEvent.A)) is Source source)
        {
            Timestamp now = linkEvent.Time;
            if (source.Packets++ == 0)
            {
                source.First = now;
                source.FirstRecord = linkEvent.Record;
            }

            source.LastSync = now;
            bool sendsItself = source.LastFrame is Timestamp own && now - own < SyncLoss;
            bool othersSend = _sources.Exists(
                other => other != source && other.LastFrame is Timestamp last && now - last < SyncLoss);
            source.Foreign += !sendsItself && othersSend ? 1 : 0;
        }
        else if (linkEvent is { Kind: LinkEventKind.CaptureLoss, B: 1 })
        {
            foreach (Source each in _sources)
            {
                each.LastSync = linkEvent.Time;
            }
        }
    }

    /// <inheritdoc/>
    public void OnTime(Timestamp now)
    {
    }

    /// <summary>Those that sent ArtSync, in the order of appearance.</summary>
    public IReadOnlyList<ArtSyncSummary> Snapshot() =>
    [
        .. _sources.Where(source => source.Packets > 0).Select(source => new ArtSyncSummary(
            IpAddress.FromIpv4(source.Address).ToString(),
            source.Packets,
            source.Foreign,
            source.FramesAfterStop,
            source.StoppedFrom,
            source.First,
            source.LastSync,
            source.FirstRecord)),
    ];

    private Source? Find(uint address)
    {
        foreach (Source source in _sources)
        {
            if (source.Address == address)
            {
                return source;
            }
        }

        if (_sources.Count >= MostSources)
        {
            return null;
        }

        Source made = new(address);
        _sources.Add(made);
        return made;
    }

    private sealed class Source(uint address)
    {
        public uint Address { get; } = address;

        public Timestamp? LastFrame { get; set; }

        public Timestamp First { get; set; }

        public Timestamp LastSync { get; set; }

        public Timestamp StoppedFrom { get; set; }

        public long FirstRecord { get; set; }

        public long Packets { get; set; }

        public long Foreign { get; set; }

        public long FramesAfterStop { get; set; }
    }
}
