using DmxProbe.Protocols.Dmx512;
using DmxProbe.Protocols.Rdm;

namespace DmxProbe.Analysis.Decoding.Line;

/// <summary>
/// Breaks and characters in, packets out. A packet ends with the next break or with the recording; an RDM packet ends
/// where it says, so that an answer to discovery, which has no break, is not taken for slots. Fixed memory.
/// </summary>
internal sealed class LinePackets(LineRate rate, ILinePacketHandler handler)
{
    private const int MostOctets = 513;
    private const int HeldUnbroken = 32;
    private const int RdmStart = 3;
    private const double OneSecond = 1.0;

    private readonly byte[] _octets = new byte[MostOctets];
    private readonly byte[] _unbroken = new byte[HeldUnbroken];

    // A packet is open from the end of its break; whole once an RDM packet has all its octets.
    private bool _open;
    private bool _whole;
    private long _breakStart;
    private long _breakEnd;
    private long _firstStart;
    private long _lastStart;
    private long _leastSpacing;
    private long _mostSpacing;
    private int _characters;
    private int _framingErrors;
    private int _rdmLength;
    private PulseWidths _wholeWidths;

    // Characters of the packets before, to tell a lost stop bit from a short break; 0 = not known. It falls slowly: a packet
    // with a lost stop bit counts one character fewer.
    private int _usualCharacters;

    private int _unbrokenCount;
    private int _unbrokenErrors;
    private long _unbrokenStart;
    private long _unbrokenLast;

    // What ended last on the line, and what stood before the packet that is open.
    private bool _hasLast;
    private double _lastEnd;
    private LinePrevious _last;
    private double _gap = -1;
    private LinePrevious _gapAfter;

    /// <summary>
    /// Whether a space may be no break: two slots 00h whose stop bits between them were lost last 80 us. In the middle of a
    /// packet, on the grid of its slots, only the mark after it tells it from a short break. As long as the break that the
    /// packet began with, it is the next one.
    /// </summary>
    public bool MayBeTwoSlots(long start, long end)
    {
        long width = end - start;
        if (width >= rate.CertainBreakTicks || !_open || _whole || _characters == 0 || (_usualCharacters > 0 && _characters >= _usualCharacters))
        {
            return false;
        }

        if (Math.Abs(width - (_breakEnd - _breakStart)) <= 2 * rate.SampleTicks)
        {
            return false;
        }

        double twoSlots = (2 * LineRate.BitsPerCharacter - 2) * rate.BitTicks;
        double due = _lastStart + LineRate.BitsPerCharacter * rate.BitTicks;
        return Math.Abs(width - twoSlots) <= Tolerance && Math.Abs(start - due) <= Tolerance;
    }

    /// <summary>Whether a mark is that of two stop bits and nothing more.</summary>
    public bool IsTwoStopBits(long width) => Math.Abs(width - 2 * rate.BitTicks) <= Tolerance;

    /// <summary>A break begins: the packet before it is over.</summary>
    public void BreakBegins(long start, in PulseWidths widths)
    {
        Close(nextBreak: start, isCut: false, in widths);
        _gap = _hasLast ? Math.Max(0, start - _lastEnd) : -1;
        _gapAfter = _last;
        _breakStart = start;
    }

    /// <summary>The break that began is over: a packet begins.</summary>
    public void BreakEnds(long end)
    {
        _open = true;
        _whole = false;
        _breakEnd = end;
        _characters = 0;
        _framingErrors = 0;
        _rdmLength = 0;
        _leastSpacing = long.MaxValue;
        _mostSpacing = 0;
    }

    /// <summary>A character.</summary>
    public void Character(long start, byte value, bool isFramingError, in PulseWidths widths)
    {
        if (_whole)
        {
            Unbroken(start, value, isFramingError);
            return;
        }

        if (_characters == 0)
        {
            _firstStart = start;
        }
        else
        {
            long spacing = start - _lastStart;
            _leastSpacing = Math.Min(_leastSpacing, spacing);
            _mostSpacing = Math.Max(_mostSpacing, spacing);
        }

        if (isFramingError)
        {
            _framingErrors++;
            handler.OnFramingError(start, _characters, value);
        }

        if (_characters < MostOctets)
        {
            _octets[_characters] = value;
        }

        _lastStart = start;
        _characters++;
        if (_octets[0] == StartCode.Rdm)
        {
            RdmGoesOn(in widths);
        }
    }

    /// <summary>The recording ends here or has a gap.</summary>
    public void Lost(long at, in PulseWidths widths)
    {
        // A mark of a second ends a packet as surely as a break: no slot may come later (E1.11, secondary sources).
        bool isOver = _whole || _characters >= MostOctets
            || rate.Microseconds(at - _lastStart) * 1e-6 > OneSecond;
        Close(nextBreak: -1, isCut: !isOver, in widths);
        _hasLast = false;
        _usualCharacters = 0;
    }

    private void RdmGoesOn(in PulseWidths widths)
    {
        if (_characters == RdmStart)
        {
            _rdmLength = RdmPacket.LengthFrom(_octets.AsSpan(0, RdmStart));
        }

        if (_characters == _rdmLength)
        {
            _whole = true;
            _wholeWidths = widths;
        }
    }

    private void Unbroken(long start, byte value, bool isFramingError)
    {
        if (_unbrokenCount == 0)
        {
            _unbrokenStart = start;
        }

        if (_unbrokenCount < HeldUnbroken)
        {
            _unbroken[_unbrokenCount] = value;
        }

        _unbrokenLast = start;
        _unbrokenCount++;
        _unbrokenErrors += isFramingError ? 1 : 0;
    }

    private void Close(long nextBreak, bool isCut, in PulseWidths widths)
    {
        if (!_open)
        {
            return;
        }

        _open = false;
        if (_characters == 0)
        {
            if (!isCut)
            {
                handler.OnEmptyBreak(_breakStart);
            }

            return;
        }

        Emit(nextBreak, isCut, in widths);
        if (_unbrokenCount > 0)
        {
            EmitUnbroken();
        }
    }

    private void Emit(long nextBreak, bool isCut, in PulseWidths widths)
    {
        LinePrevious about = Describe();
        PulseWidths own = _whole ? _wholeWidths : widths;
        handler.OnPacket(new LinePacket
        {
            Octets = Octets,
            Characters = _characters,
            FramingErrors = _framingErrors,
            BreakStart = _breakStart,
            BreakEnd = _breakEnd,
            FirstStart = _firstStart,
            LastStart = _lastStart,
            NextBreak = nextBreak,
            IsCut = isCut,
            LeastSpacing = _leastSpacing,
            MostSpacing = _mostSpacing,
            Widths = own,
            Kind = about.Kind,
            SincePrevious = _gap,
            Previous = _gapAfter,
        });
        double bit = own.Bit;
        _last = about;
        _lastEnd = _lastStart + LineRate.BitsPerCharacter * (double.IsNaN(bit) ? rate.BitTicks : bit);
        _hasLast = true;
        _usualCharacters = isCut ? 0 : Math.Max(_characters, _usualCharacters - 1);
    }

    private void EmitUnbroken()
    {
        handler.OnUnbroken(new LineUnbroken
        {
            Octets = _unbroken.AsSpan(0, Math.Min(_unbrokenCount, HeldUnbroken)),
            Characters = _unbrokenCount,
            FramingErrors = _unbrokenErrors,
            Start = _unbrokenStart,
            SincePrevious = Math.Max(0, _unbrokenStart - _lastEnd),
            Previous = _last,
        });
        _last = new LinePrevious(LinePacketKind.DiscoveryReply, WantsAnswer: false, IsDiscovery: false);
        _lastEnd = _unbrokenLast + LineRate.BitsPerCharacter * rate.BitTicks;
        _unbrokenCount = 0;
        _unbrokenErrors = 0;
    }

    private double Tolerance => 0.5 * rate.BitTicks + rate.SampleTicks;

    private ReadOnlySpan<byte> Octets => _octets.AsSpan(0, Math.Min(_characters, MostOctets));

    private LinePrevious Describe()
    {
        switch (_octets[0])
        {
            case StartCode.Null:
                return new LinePrevious(LinePacketKind.Levels, WantsAnswer: false, IsDiscovery: false);
            case StartCode.Test:
                return new LinePrevious(LinePacketKind.Test, WantsAnswer: false, IsDiscovery: false);
            case StartCode.Rdm when RdmPacket.TryParse(Octets, out RdmPacket rdm, out _):
                bool isDiscovery = rdm.CommandClass == RdmCommandClass.Discovery && rdm.Parameter == RdmParameter.DiscoverUniqueBranch;
                return rdm.IsResponse
                    ? new LinePrevious(LinePacketKind.RdmResponse, WantsAnswer: false, IsDiscovery: false)
                    : new LinePrevious(LinePacketKind.RdmRequest, WantsAnswer: !isDiscovery && !rdm.Destination.IsBroadcast, isDiscovery);
            default:
                return new LinePrevious(LinePacketKind.Other, WantsAnswer: false, IsDiscovery: false);
        }
    }
}
