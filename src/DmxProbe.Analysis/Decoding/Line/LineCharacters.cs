using System.Runtime.CompilerServices;
using DmxProbe.Protocols.Line;

namespace DmxProbe.Analysis.Decoding.Line;

/// <summary>
/// Edges in, breaks and characters out. Breaks are watched apart from the characters, a character without its stop bit is
/// reported and reading goes on. After a gap nothing counts until the next break. A pulse is looked at when the next one
/// has shown itself to be no glitch.
/// </summary>
internal sealed class LineCharacters(LineRate rate, LinePackets packets)
{
    private const int FirstStopBit = 9;
    private const int AllBits = LineRate.BitsPerCharacter + 1;
    private const long Half = 1L << 31;

    private readonly long _glitch = rate.GlitchTicks;
    private readonly long _inverse = rate.Inverse;
    private readonly long _characterTicks = rate.CharacterTicks;
    private readonly long _offGrid = rate.OffGrid;

    // The pulse that is running, and the one before it, which waits until this one is no glitch.
    private bool _known;
    private bool _isMark;
    private long _start;
    private bool _hasPrevious;
    private long _previousStart;

    // A space that may be a short break or two slots 00h that lost the stop bits between them: the mark after it tells.
    private long _doubtfulSpace = -1;

    private State _state = State.Lost;
    private long _lostAt = -1;
    private long _characterStart;
    private int _bitsSeen;
    private int _bits;
    private PulseWidths _widths;

    private enum State
    {
        /// <summary>No break yet: what comes is part of a packet whose start was missed.</summary>
        Lost,

        /// <summary>Mark between characters.</summary>
        Mark,

        /// <summary>Inside a character.</summary>
        Character,
    }

    /// <summary>True to take the first mark of each stretch for one inside a packet, so that no break is waited for.</summary>
    public bool BeginsInPacket { get; init; }

    /// <summary>Pulses shorter than a quarter of a bit, left out.</summary>
    public long Glitches { get; private set; }

    /// <summary>Pulses left out because no break had come yet: a packet whose start was missed is none.</summary>
    public long PulsesBeforeBreak { get; private set; }

    /// <summary>Takes a run of edges.</summary>
    /// <param name="run">The run; its ticks are those of the rate.</param>
    /// <param name="invert">True where low is mark.</param>
    public void Feed(in EdgeRun run, bool invert)
    {
        long now = run.StartTick;
        if (run.StartLevel == LineLevel.Unknown)
        {
            Lose(now);
            return;
        }

        bool isMark = (run.StartLevel == LineLevel.High) != invert;
        if (!_known || (run.Flags & EdgeRunFlags.Gap) != 0)
        {
            Lose(now);
            _known = true;
            _isMark = isMark;
            _start = now;
            _lostAt = now;
        }
        else if (isMark != _isMark)
        {
            Edge(now);
        }

        foreach (uint step in run.Steps)
        {
            now += step;
            if (step != EdgeRun.NoEdge)
            {
                Edge(now);
            }
        }

        if ((run.Flags & EdgeRunFlags.Last) != 0)
        {
            End(now + run.Tail);
        }
    }

    /// <summary>The recording ends: what stands open is closed as far as it goes.</summary>
    /// <param name="end">Tick of the end.</param>
    public void End(long end)
    {
        if (!_known)
        {
            return;
        }

        ConfirmPrevious();
        if (_doubtfulSpace >= 0)
        {
            SettleDoubt(_start, isBreak: true);
        }

        if (_isMark && _state == State.Character && BitsUntil(end - _characterStart) > FirstStopBit)
        {
            FinishCharacter();
        }
        else if (!_isMark && end - _start >= rate.CertainBreakTicks)
        {
            // The next break has begun: the packet before it is whole.
            packets.BreakBegins(_start, in _widths);
        }

        Lose(end);
    }

    private void Lose(long at)
    {
        if (_known)
        {
            ConfirmPrevious();
        }

        packets.Lost(at, in _widths);
        _widths = default;
        _known = false;
        _hasPrevious = false;
        _doubtfulSpace = -1;
        _state = State.Lost;
    }

    private void ConfirmPrevious()
    {
        if (_hasPrevious)
        {
            _hasPrevious = false;
            Pulse(!_isMark, _previousStart, _start);
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private void Edge(long now)
    {
        // Ticks of a recording stay far below 2^62: nothing overflows on this path, and the checks would cost a tenth of it.
        if (unchecked(now - _start) < _glitch)
        {
            Glitches++;
            _widths.Glitches++;
            if (_hasPrevious)
            {
                // The pulse before the glitch goes on as if there had been none.
                _hasPrevious = false;
                _start = _previousStart;
            }
            else
            {
                _start = now;
            }

            _isMark = !_isMark;
            return;
        }

        if (_hasPrevious)
        {
            Pulse(!_isMark, _previousStart, _start);
        }

        _hasPrevious = true;
        _previousStart = _start;
        _start = now;
        _isMark = !_isMark;
    }

    private void Pulse(bool isMark, long start, long end)
    {
        if (start == _lostAt)
        {
            // It was running when the recording began: its length is not known.
            return;
        }

        if (isMark)
        {
            MarkEnds(start, end);
        }
        else
        {
            SpaceEnds(start, end);
        }
    }

    private void MarkEnds(long start, long end)
    {
        if (_doubtfulSpace >= 0)
        {
            SettleDoubt(start, isBreak: !packets.IsTwoStopBits(end - start));
        }
        else if (_state == State.Character)
        {
            int bits = BitsUntil(end - _characterStart);
            if (bits <= FirstStopBit)
            {
                unchecked
                {
                    _bits |= (1 << bits) - (1 << _bitsSeen);
                    _widths.HighTicks += end - start;
                    _widths.HighBits += bits - _bitsSeen;
                    _widths.Highs++;
                }

                _bitsSeen = bits;
                return;
            }

            FinishCharacter();
        }

        if (_state == State.Lost)
        {
            if (!BeginsInPacket)
            {
                PulsesBeforeBreak++;
                return;
            }

            packets.BreakEnds(start);
        }

        _state = State.Character;
        _characterStart = end;
        _bitsSeen = 0;
        _bits = 0;
    }

    private void SpaceEnds(long start, long end)
    {
        if (end - start >= rate.ShortestBreakTicks)
        {
            _doubtfulSpace = start;
            if (!packets.MayBeTwoSlots(start, end))
            {
                SettleDoubt(end, isBreak: true);
            }
        }
        else if (_state == State.Character)
        {
            int bits = BitsUntil(end - _characterStart);
            if (bits == 0)
            {
                // Gone before the middle of the start bit: no start bit.
                Glitches++;
                _widths.Glitches++;
                _state = State.Mark;
            }
            else if (bits <= FirstStopBit)
            {
                unchecked
                {
                    _widths.LowTicks += end - start;
                    _widths.LowBits += bits - _bitsSeen;
                    _widths.Lows++;
                }

                _bitsSeen = bits;
            }
            else
            {
                _state = State.Mark;
                packets.Character(_characterStart, unchecked((byte)(_bits >> 1)), isFramingError: true, in _widths);
            }
        }
    }

    private void SettleDoubt(long end, bool isBreak)
    {
        long start = _doubtfulSpace;
        _doubtfulSpace = -1;
        if (isBreak)
        {
            Break(start, end);
        }
        else if (_state == State.Character)
        {
            _state = State.Mark;
            packets.Character(_characterStart, unchecked((byte)(_bits >> 1)), isFramingError: true, in _widths);
        }
    }

    private void Break(long start, long end)
    {
        if (_state == State.Character && _characterStart != start)
        {
            packets.Character(_characterStart, unchecked((byte)(_bits >> 1)), isFramingError: true, in _widths);
        }

        _state = State.Mark;
        packets.BreakBegins(start, in _widths);
        packets.BreakEnds(end);
        _widths = default;
    }

    private void FinishCharacter()
    {
        _state = State.Mark;
        _bits |= (1 << (FirstStopBit + 1)) - (1 << _bitsSeen);
        packets.Character(_characterStart, unchecked((byte)(_bits >> 1)), isFramingError: false, in _widths);
    }

    // How many middles of bits, the start bit's first, lie before a time since the start of the character.
    private int BitsUntil(long elapsed)
    {
        if (elapsed >= _characterTicks)
        {
            return AllBits;
        }

        // An edge just between two bits counts with the earlier: at two samples a bit, lows are measured half a bit long as
        // often as highs are, and only a low that is too long takes a stop bit away.
        unchecked
        {
            long position = elapsed * _inverse + Half - 1;
            long offset = (position & uint.MaxValue) - Half;
            if ((offset > _offGrid || offset < -_offGrid) && position >> 32 <= FirstStopBit)
            {
                _widths.OffGrid++;
            }

            return (int)(position >> 32);
        }
    }
}
