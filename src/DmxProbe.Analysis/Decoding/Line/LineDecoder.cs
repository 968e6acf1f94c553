using DmxProbe.Protocols.Line;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Decoding.Line;

/// <summary>
/// Line recordings: finds which channels carry DMX512, which level is mark and which two channels are one pair, then
/// decodes each line. The first two seconds from the first edge on (at most 8 MB of edges) are held to find that out and
/// then decoded like the rest, so nothing is lost and nothing depends on how the recording was cut into records.
/// </summary>
public sealed class LineDecoder
{
    /// <summary>Most channels that hold state; more are counted.</summary>
    public const int MostChannels = 64;

    private const int MostHeldOctets = 8 << 20;
    private static readonly Duration LookAhead = Duration.FromSeconds(2);

    private readonly StreamTable _streams;
    private readonly LineOptions _options;
    private readonly PerIndex<Place> _places = new();
    private readonly List<LineChannel> _channels = [];
    private int _lines;

    /// <summary>Makes a decoder.</summary>
    internal LineDecoder(StreamTable streams, LineOptions options)
    {
        _streams = streams;
        _options = options;
    }

    /// <summary>Records of channels beyond <see cref="MostChannels"/>.</summary>
    public long RecordsNotListed { get; private set; }

    /// <summary>The last moment that any channel tells of.</summary>
    public Timestamp Until { get; private set; } = Timestamp.MinValue;

    /// <summary>What was made of each channel, in the order of the recording.</summary>
    public IReadOnlyList<LineChannelSummary> Snapshot() => [.. _channels.Select(channel => channel.Summary())];

    /// <summary>Takes a record of edges.</summary>
    /// <param name="record">The record.</param>
    /// <param name="interfaces">The interfaces of its source, as far as they are known.</param>
    /// <param name="sink">Where frames, timings and events go.</param>
    /// <param name="until">The moment up to which it tells.</param>
    /// <returns>False where its bytes are no run of edges.</returns>
    internal bool Decode(in CaptureRecord record, IReadOnlyList<CaptureInterface> interfaces, IFrameSink sink, out Timestamp until)
    {
        until = record.Time;
        if (!EdgeRun.TryParse(record.Data, out EdgeRun run))
        {
            return false;
        }

        LineChannel? channel = ChannelOf(record.InterfaceId, interfaces);
        if (channel is null)
        {
            RecordsNotListed++;
            return true;
        }

        bool heldEdges = channel.HoldsEdges;
        channel.Count(in record, in run);
        Until = channel.Until > Until ? channel.Until : Until;
        until = channel.Until;
        switch (channel.Use)
        {
            case LineChannelUse.Decoded or LineChannelUse.Copy:
                channel.Feed(in run, record.Number, record.Time, sink);
                break;
            case null:
                if (!heldEdges)
                {
                    // An idle stretch needs no memory: the run before it says nothing more.
                    channel.Held.Clear();
                }

                channel.Held.Add(in record);
                if (IsTimeToDecide(interfaces))
                {
                    Decide(sink);
                }

                break;
        }

        return true;
    }

    /// <summary>The input has ended: decides what is still open and closes what is cut.</summary>
    internal void Finish(IFrameSink sink)
    {
        Decide(sink);
        foreach (LineChannel channel in _channels)
        {
            channel.Finish(sink);
        }
    }

    private LineChannel? ChannelOf(int interfaceId, IReadOnlyList<CaptureInterface> interfaces)
    {
        ref Place place = ref _places[interfaceId];
        if (place.Channel is null && !place.IsRefused)
        {
            place.Channel = Make(interfaceId, interfaces);
            place.IsRefused = place.Channel is null;
        }

        return place.Channel;
    }

    private LineChannel? Make(int interfaceId, IReadOnlyList<CaptureInterface> interfaces)
    {
        CaptureInterface? about = interfaces.FirstOrDefault(each => each.Id == interfaceId);
        if (about is null || about.TicksPerSecond <= 0 || _channels.Count >= MostChannels)
        {
            return null;
        }

        LineChannel channel = new(about, new LineRate(about.TicksPerSecond, about.Resolution)) { IsRateTold = _options.IsRateTold };
        if (!_options.Wants(about.Name))
        {
            channel.Use = LineChannelUse.NotAsked;
        }

        _channels.Add(channel);
        return channel;
    }

    // Every channel of the recording must have been heard as far as the stretch goes, so that pairs are seen whole.
    private bool IsTimeToDecide(IReadOnlyList<CaptureInterface> interfaces)
    {
        Timestamp? first = null;
        long held = 0;
        foreach (LineChannel channel in _channels)
        {
            if (channel.Use is null)
            {
                held += channel.Held.Octets;
                if (channel.HoldsEdges && (first is null || channel.FirstHeldEdge < first))
                {
                    first = channel.FirstHeldEdge;
                }
            }
        }

        if (held >= MostHeldOctets)
        {
            return true;
        }

        if (first is not Timestamp from)
        {
            return false;
        }

        foreach (CaptureInterface each in interfaces)
        {
            if (each.Content == InterfaceContent.Line && !IsHeardUntil(each.Id, from + LookAhead))
            {
                return false;
            }
        }

        return true;
    }

    private bool IsHeardUntil(int interfaceId, Timestamp time) =>
        interfaceId < _places.Count
        && _places[interfaceId] is { } place
        && (place.IsRefused || (place.Channel is LineChannel channel && (channel.HasEnded || channel.Until >= time)));

    private void Decide(IFrameSink sink)
    {
        List<LineChannel> waiting = [.. _channels.Where(channel => channel.Use is null)];
        List<LineChannel> decoded = [];
        foreach (LineChannel channel in waiting.Where(channel => channel.HoldsEdges && channel.Rate.IsFineEnough))
        {
            FindPolarity(channel, isAsked: _options.Channels.Count > 0);
        }

        foreach (LineChannel channel in waiting.Where(channel => channel.Use == LineChannelUse.Decoded))
        {
            FindPartner(channel, decoded);
            if (channel.Use != LineChannelUse.OtherLeg)
            {
                decoded.Add(channel);
            }
        }

        foreach (LineChannel channel in waiting)
        {
            if (channel.Use is LineChannelUse.Decoded or LineChannelUse.Copy && OutputFor(channel) is LineOutput output)
            {
                channel.Begin(output, sink);
            }
            else
            {
                // A channel that shows nothing yet may begin later: it is looked at again from here on.
                channel.Held.Clear();
                channel.EdgesBeforeHeld = channel.Edges;
                channel.FirstHeldEdge = null;
            }
        }
    }

    private void FindPolarity(LineChannel channel, bool isAsked)
    {
        LineProbe high = channel.Probe(LinePolarity.MarkHigh);
        LineProbe low = channel.Probe(LinePolarity.MarkLow);
        LinePolarity better = low.IsBetterThan(high) ? LinePolarity.MarkLow : LinePolarity.MarkHigh;
        channel.IsPolarityTold = _options.Polarity is not null;
        channel.Polarity = _options.Polarity ?? better;
        LineProbe chosen = channel.Polarity == LinePolarity.MarkLow ? low : high;
        LineProbe best = better == LinePolarity.MarkLow ? low : high;
        channel.IsWithoutBreak = (high.Packets == 0 && IsPartOfPacket(channel, LinePolarity.MarkHigh, low))
            || (low.Packets == 0 && IsPartOfPacket(channel, LinePolarity.MarkLow, high));
        if (channel.IsWithoutBreak)
        {
            // Upside down, a long mark between slots looks like a break.
            return;
        }

        channel.IsPolarityDoubtful = best.Decodes && channel.Polarity != better;
        if (chosen.Decodes || channel.IsPolarityDoubtful || (isAsked && chosen.Packets > 0))
        {
            channel.Use = LineChannelUse.Decoded;
        }
    }

    // Whether a polarity that shows no break reads as a clean part of a packet, and the other one as nothing that is sent on purpose.
    private static bool IsPartOfPacket(LineChannel channel, LinePolarity polarity, LineProbe other)
    {
        const int enough = 50;
        const double clean = 0.01;
        const double spoilt = 0.05;
        LineProbe open = channel.Probe(polarity, isInPacket: true);
        if (open.Characters < enough || open.Spoilt > clean)
        {
            return false;
        }

        return (other.KnownStarts == 0 && other.MeanBreak < channel.Rate.CertainBreakTicks)
            || channel.Probe(polarity == LinePolarity.MarkHigh ? LinePolarity.MarkLow : LinePolarity.MarkHigh, isInPacket: true).Spoilt >= spoilt;
    }

    // Of the two legs of a pair the one with mark high is decoded, wherever it stands.
    private static void FindPartner(LineChannel channel, List<LineChannel> decoded)
    {
        foreach (LineChannel other in decoded.Where(other => other.Partner is null && other.About.TicksPerSecond == channel.About.TicksPerSecond))
        {
            switch (ChannelLikeness.Of(channel.Held, other.Held, (long)Math.Ceiling(2 * channel.Rate.SampleTicks)))
            {
                case ChannelLikeness.Kind.Same:
                    channel.Use = LineChannelUse.Copy;
                    channel.Partner = other;
                    return;
                case ChannelLikeness.Kind.Opposite:
                    channel.Partner = other;
                    other.Partner = channel;
                    if (channel.Polarity == LinePolarity.MarkHigh && other.Polarity == LinePolarity.MarkLow)
                    {
                        other.Use = LineChannelUse.OtherLeg;
                        decoded.Remove(other);
                    }
                    else
                    {
                        channel.Use = LineChannelUse.OtherLeg;
                    }

                    return;
            }
        }
    }

    // Null where the tables are full: the channel then counts as one that was not asked for.
    private LineOutput? OutputFor(LineChannel channel)
    {
        UniverseId universe = new(UniverseProtocol.Line, _lines++);
        int stream = _streams.FindLocal(universe, channel.About.Name);
        if (stream < 0)
        {
            channel.Use = LineChannelUse.NotAsked;
            return null;
        }

        return new LineOutput(channel.Rate, universe, _streams.UniverseIndexOf(stream), stream, _streams.SenderOf(stream));
    }

    private struct Place
    {
        public LineChannel? Channel;
        public bool IsRefused;
    }
}
