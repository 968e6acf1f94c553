using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Conformance;

/// <summary>Counts events by kind, sender and universe, with where each was seen first. Bounded.</summary>
public sealed class EventAnalyzer : IAnalyzer
{
    /// <summary>Most different events kept; further ones are counted together.</summary>
    public const int Capacity = 16384;

    private readonly Dictionary<Key, Tally> _tallies = [];

    /// <summary>Events beyond those kept apart.</summary>
    public long NotListed { get; private set; }

    /// <inheritdoc/>
    public void OnFrame(in DmxFrame frame)
    {
    }

    /// <inheritdoc/>
    public void OnEvent(in LinkEvent linkEvent)
    {
        Key key = new(linkEvent.Kind, Telling(in linkEvent), linkEvent.Sender, linkEvent.Universe);
        if (!_tallies.TryGetValue(key, out Tally? tally))
        {
            if (_tallies.Count >= Capacity)
            {
                NotListed++;
                return;
            }

            tally = new Tally(linkEvent);
            _tallies.Add(key, tally);
        }

        tally.Count++;
        tally.SumOfA = unchecked(tally.SumOfA + linkEvent.A);
        tally.Last = linkEvent.Time;
    }

    /// <inheritdoc/>
    public void OnTime(Timestamp now)
    {
    }

    /// <summary>The counts, in the order of first appearance.</summary>
    public IReadOnlyList<EventCount> Snapshot(SenderTable senders) =>
    [
        .. _tallies
            .OrderBy(pair => pair.Value.First.Record)
            .Select(pair => new EventCount(
                pair.Key.Kind,
                pair.Key.A,
                pair.Value.First.B,
                pair.Key.Universe,
                pair.Key.Sender < 0 ? null : senders.Describe(pair.Key.Sender),
                pair.Value.Count,
                pair.Value.First.Time,
                pair.Value.Last,
                pair.Value.First.Record,
                pair.Value.SumOfA)),
    ];

    // The figure that tells events of a kind apart; one that only measures must not make a row each.
    private static long Telling(in LinkEvent linkEvent) => linkEvent.Kind switch
    {
        LinkEventKind.SacnRule
            or LinkEventKind.ArtRule
            or LinkEventKind.ArtProgramming
            or LinkEventKind.ArtOther
            or LinkEventKind.SacnSync
            or LinkEventKind.ArtLengthOdd
            or LinkEventKind.SlotFramingError
            or LinkEventKind.FramedDamage
            or LinkEventKind.FramedOther
            or LinkEventKind.Malformed => linkEvent.A,
        _ => 0,
    };

    private readonly record struct Key(LinkEventKind Kind, long A, int Sender, UniverseId Universe);

    private sealed class Tally(LinkEvent first)
    {
        public LinkEvent First { get; } = first;

        public long Count { get; set; }

        public long SumOfA { get; set; }

        public Timestamp Last { get; set; } = first.Time;
    }
}
