using DmxProbe.Protocols.Dmx512;
using DmxProbe.Protocols.Rdm;
using DmxProbe.Protocols.Records;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Analysis.Decoding.Line;

/// <summary>Turns the packets of one line, in ticks, into frames, timings and events, and counts.</summary>
internal sealed class LineOutput(LineRate rate, UniverseId universe, int universeIndex, int stream, int sender) : ILinePacketHandler
{
    private const int Places = 513;
    private const int MostPlacesTold = 8;

    private readonly long[] _framingErrorsAt = new long[Places];
    private IFrameSink? _sink;
    private long _record;
    private long _breakRecord;
    private long _anchorTick;
    private Timestamp _anchorTime;
    private bool _isAnchored;
    private double _bitSum;
    private long _bitPackets;
    private int _startBefore = -1;

    public UniverseId Universe => universe;

    public long Packets { get; private set; }

    public long CutPackets { get; private set; }

    public long Characters { get; private set; }

    public long FramingErrors { get; private set; }

    public long DisturbedPackets { get; private set; }

    public long KnownStarts { get; private set; }

    public long FittingBits { get; private set; }

    public long SoundPackets { get; private set; }

    /// <summary>Mean over the packets, in microseconds; NaN without one.</summary>
    public double BitTime => _bitPackets == 0 ? double.NaN : _bitSum / _bitPackets;

    public long Pulses { get; private set; }

    public long EdgesOffGrid { get; private set; }

    public long StrayCharacters { get; private set; }

    public long EmptyBreaks { get; private set; }

    public long DiscoveryReplies { get; private set; }

    public long DiscoveryCollisions { get; private set; }

    public long DamagedRdm { get; private set; }

    public long SpoiltStarts => _framingErrorsAt[0];

    public IReadOnlyList<(int Slot, long Count)> FramingErrorSlots =>
    [
        .. _framingErrorsAt.Select((count, slot) => (slot, count))
            .Where(place => place.count > 0)
            .OrderByDescending(place => place.count)
            .Take(MostPlacesTold),
    ];

    /// <summary>Where what comes next is to go.</summary>
    public void Into(IFrameSink sink) => _sink = sink;

    /// <summary>Where what comes next is to go, and which record it is from.</summary>
    public void Into(IFrameSink sink, long record, long startTick, Timestamp time)
    {
        _sink = sink;
        _record = record;
        if (!_isAnchored)
        {
            _isAnchored = true;
            _anchorTick = startTick;
            _anchorTime = time;
            _breakRecord = record;
        }
    }

    /// <inheritdoc/>
    public void OnPacket(in LinePacket packet)
    {
        Packets++;
        CutPackets += packet.IsCut ? 1 : 0;
        Characters += packet.Characters;
        FramingErrors += packet.FramingErrors;
        Pulses += packet.Widths.Lows + packet.Widths.Highs;
        EdgesOffGrid += packet.Widths.OffGrid;
        KnownStarts += StartCode.IsInUse(packet.Octets[0]) ? 1 : 0;
        Timestamp time = TimeOf(packet.BreakStart);
        LineTiming timing = Timing(in packet, time);
        DisturbedPackets += timing.IsDisturbed ? 1 : 0;
        bool fits = Math.Abs(timing.BitTime - NominalBit) <= BitTolerance + timing.BitTimeResolution;
        FittingBits += fits ? 1 : 0;
        SoundPackets += fits && IsSound(in packet) ? 1 : 0;
        _startBefore = packet.Octets[0];
        if (!double.IsNaN(timing.BitTime))
        {
            _bitSum += timing.BitTime;
            _bitPackets++;
        }

        _sink!.OnFrame(new DmxFrame
        {
            Time = time,
            Record = _breakRecord,
            Universe = universe,
            Stream = stream,
            Sender = sender,
            UniverseIndex = universeIndex,
            StartCode = packet.Octets[0],
            Priority = DefaultPriority,
            Flags = (packet.IsCut ? FrameFlags.SlotsCut : FrameFlags.None) | (packet.FramingErrors > 0 ? FrameFlags.Damaged : FrameFlags.None),
            Slots = packet.Octets[1..],
        });
        _sink.OnLineTiming(in timing);
        if (packet.Characters > Places)
        {
            Tell(LinkEventKind.SlotsOver512, time, packet.Characters - Places, 0);
        }

        if (packet.Octets[0] == StartCode.Rdm && !packet.IsCut && !IsRdmWhole(in packet, out long why))
        {
            DamagedRdm++;
            Tell(LinkEventKind.RdmDamaged, time, why, 0);
        }

        _breakRecord = _record;
    }

    /// <inheritdoc/>
    public void OnFramingError(long at, int slot, byte value)
    {
        _framingErrorsAt[Math.Min(slot, Places - 1)]++;
        Tell(LinkEventKind.SlotFramingError, TimeOf(at), slot, value);
    }

    /// <inheritdoc/>
    public void OnUnbroken(in LineUnbroken reply)
    {
        Timestamp time = TimeOf(reply.Start);
        if (!reply.Previous.IsDiscovery)
        {
            StrayCharacters += reply.Characters;
            Tell(LinkEventKind.LineStrayCharacters, time, reply.Characters, 0);
            return;
        }

        bool isWhole = RdmDiscoveryReply.TryParse(reply.Octets, out RdmUid uid);
        DiscoveryReplies += isWhole ? 1 : 0;
        DiscoveryCollisions += isWhole ? 0 : 1;
        Tell(isWhole ? LinkEventKind.RdmDiscoveryReply : LinkEventKind.RdmDiscoveryCollision, time, isWhole ? uid.Value : reply.Characters, 0);
        LineTiming timing = Empty(time, LinePacketKind.DiscoveryReply) with
        {
            Characters = reply.Characters,
            FramingErrors = reply.FramingErrors,
            SincePrevious = rate.Microseconds(reply.SincePrevious),
            Previous = reply.Previous.Kind,
            PreviousIsDiscovery = true,
        };
        _sink!.OnLineTiming(in timing);
    }

    /// <inheritdoc/>
    public void OnEmptyBreak(long at)
    {
        EmptyBreaks++;
        Tell(LinkEventKind.EmptyBreak, TimeOf(at), 0, 0);
    }

    // Microseconds: 250 kbit/s and 2 % either way (245 to 255 kbit/s, E1.11 by secondary sources).
    private const double NominalBit = 4;
    private const double BitTolerance = 0.08;

    // A line has no priority; 100 is what every protocol without one counts as.
    private const byte DefaultPriority = 100;

    private static bool IsRdmWhole(in LinePacket packet, out long why)
    {
        if (!RdmPacket.TryParse(packet.Octets, out RdmPacket rdm, out WireError error))
        {
            why = (long)error.Kind;
            return false;
        }

        why = 0;
        return rdm.IsChecksumRight && rdm.IsDataLengthRight;
    }

    private static bool IsDisturbed(in LinePacket packet) =>
        packet.Widths.Glitches > 0 || (packet.Characters > Places && packet.Widths.OffGrid > 0);

    // Reads as 250 kbit/s and as nothing else: every character whole, edges where bits end, one START code after the other the
    // same, and pulses of an odd number of bits, which a line of half the rate has not.
    private bool IsSound(in LinePacket packet)
    {
        const int share = 20;
        if (packet.FramingErrors > 0 || packet.Characters < 2 || packet.Octets[0] != _startBefore
            || packet.Widths.OffGrid * share > packet.Widths.Lows + packet.Widths.Highs)
        {
            return false;
        }

        foreach (byte octet in packet.Octets)
        {
            if (!IsOfHalfTheRate(octet))
            {
                return true;
            }
        }

        return false;
    }

    // Start bit and bit 0, bits 1 and 2, 3 and 4, 5 and 6, bit 7 and the stop bit are two halves of one bit each.
    private static bool IsOfHalfTheRate(byte octet) => (octet & 0x81) == 0x80 && ((octet ^ (octet >> 1)) & 0x2A) == 0;

    private Timestamp TimeOf(long tick) => _anchorTime + rate.Nanoseconds(tick - _anchorTick);

    private void Tell(LinkEventKind kind, Timestamp time, long a, long b) =>
        _sink!.OnEvent(new LinkEvent(kind, time, _record, sender, universe, a, b));

    private LineTiming Empty(Timestamp time, LinePacketKind kind) => new()
    {
        Time = time,
        Record = _breakRecord,
        Universe = universe,
        UniverseIndex = universeIndex,
        Kind = kind,
        SamplePeriod = rate.Microseconds(rate.SampleTicks),
        Break = double.NaN,
        MarkAfterBreak = double.NaN,
        MarkBeforeBreak = double.NaN,
        BreakToBreak = double.NaN,
        Length = double.NaN,
        InterSlotLeast = double.NaN,
        InterSlotMean = double.NaN,
        InterSlotMost = double.NaN,
        BitTime = double.NaN,
        BitTimeResolution = double.NaN,
        Skew = double.NaN,
        SincePrevious = double.NaN,
    };

    private LineTiming Timing(in LinePacket packet, Timestamp time)
    {
        double bit = packet.Widths.Bit;
        double character = LineRate.BitsPerCharacter * (double.IsNaN(bit) ? rate.BitTicks : bit);
        double end = packet.LastStart + character;
        bool isFollowed = packet.NextBreak >= 0;
        bool hasSlots = packet.Characters > 1;
        bool isRdm = packet.Kind is LinePacketKind.RdmRequest or LinePacketKind.RdmResponse;
        double mean = hasSlots ? (double)(packet.LastStart - packet.FirstStart) / (packet.Characters - 1) - character : double.NaN;
        return Empty(time, packet.Kind) with
        {
            StartCode = packet.Octets[0],
            IsCut = packet.IsCut,
            Characters = packet.Characters,
            FramingErrors = packet.FramingErrors,
            IsDisturbed = IsDisturbed(in packet),
            Break = rate.Microseconds(packet.BreakEnd - packet.BreakStart),
            MarkAfterBreak = rate.Microseconds(packet.FirstStart - packet.BreakEnd),
            MarkBeforeBreak = isFollowed && !isRdm ? NotBelowZero(packet.NextBreak - end) : double.NaN,
            BreakToBreak = isFollowed ? rate.Microseconds(packet.NextBreak - packet.BreakStart) : double.NaN,
            Length = packet.IsCut ? double.NaN : rate.Microseconds(end - packet.BreakStart),
            InterSlotLeast = hasSlots ? NotBelowZero(packet.LeastSpacing - character) : double.NaN,
            InterSlotMean = hasSlots ? NotBelowZero(mean) : double.NaN,
            InterSlotMost = hasSlots ? NotBelowZero(packet.MostSpacing - character) : double.NaN,
            BitTime = rate.Microseconds(bit),
            BitTimeResolution = rate.Microseconds(packet.Widths.BitResolution * rate.SampleTicks) + SkewInBit(packet.Widths),
            Skew = rate.Microseconds(packet.Widths.Skew),
            SincePrevious = packet.SincePrevious < 0 ? double.NaN : rate.Microseconds(packet.SincePrevious),
            Previous = packet.Previous.Kind,
            PreviousWantsAnswer = packet.Previous.WantsAnswer,
            PreviousIsDiscovery = packet.Previous.IsDiscovery,
        };
    }

    // Where no high pulse tells the skew, up to 1 us of it (half a microsecond a pulse) may hide in the bit time.
    private static double SkewInBit(PulseWidths widths)
    {
        const double skewOfPulse = 0.5;
        return widths.Highs == 0 && widths.LowBits > 0 ? skewOfPulse * widths.Lows / widths.LowBits : 0;
    }

    // A mark is never negative: what falls below zero by less than the sampling and the clock can do is zero.
    private double NotBelowZero(double ticks) =>
        rate.Microseconds(ticks < 0 && ticks > -(2 * rate.SampleTicks + rate.BitTicks / 4) ? 0 : ticks);
}
