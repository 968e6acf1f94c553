using System.Buffers;
using System.Text;
using DmxProbe.Protocols.Line;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Protocols.CaptureFiles.Lines;

/// <summary>Reads a VCD file (standards-facts F1): words set apart by white space, however they stand on lines.</summary>
internal sealed class VcdSource : LineSource
{
    private const int LongestWord = 64 * 1024;
    private const int MostDigits = 18; // of a time: always fits 64 bit

    private static readonly SearchValues<byte> Bits = SearchValues.Create("01xXzZuUwW"u8);

    private readonly LineDamage _damage;
    private readonly VcdHeader _header;
    private readonly bool _isPlainClock;
    private bool _started;
    private bool _skipping; // inside $comment or the like
    private long _first; // time of the first tick
    private long _now;
    private long _closeAt;
    private int _changes;

    /// <summary>Reads changes.</summary>
    /// <param name="window">Standing after the header.</param>
    /// <param name="header">The header.</param>
    /// <param name="unpacked">Whether the file comes out of a gzip file.</param>
    /// <param name="name">Name to print.</param>
    public VcdSource(ByteWindow window, VcdHeader header, bool unpacked, string name)
        : base(window, name, header.Channels.Count, header.TicksPerSecond)
    {
        _damage = new LineDamage(unpacked, header.TicksPerSecond);
        _header = header;
        _isPlainClock = header is { TicksPerUnit: 1, UnitsPerTick: 1 };
        foreach (string sentence in header.Assumptions)
        {
            Assume(sentence);
        }
    }

    private enum Stop
    {
        MoreNeeded,
        SliceFull,
        Wrong,
    }

    protected override bool FillSlice()
    {
        _changes = 0;
        while (true)
        {
            Stop stop = Parse(Window.Peek(Window.Available), out int taken);
            Window.Skip(taken);
            if (stop == Stop.SliceFull)
            {
                Slice.Close(_closeAt, last: false);
                return true;
            }

            if (stop == Stop.MoreNeeded && Window.Available > LongestWord)
            {
                Problem = Wrong(0, "a time or a value", "a word of more than 64 KiB");
                stop = Stop.Wrong;
            }

            if (stop == Stop.Wrong || !Window.Has(Window.Available + 1))
            {
                Problem ??= Window.Failure is not null ? _damage.Unreadable(Window, _now) : WhatIsLeft();
                Slice.Close(_now, last: true);
                Window.Close();
                return false;
            }
        }
    }

    protected override IEnumerable<CaptureInterface> Describe()
    {
        string unit = "VCD, " + (_header.Unit.Length > 0 ? _header.Unit : "1 ns") + " units";
        (double ticks, string? sentence) = new SamplingGrid(Slice, TicksPerSecond).Find(_header.StatedRate);
        if (sentence is not null)
        {
            Assume(sentence);
        }

        return _header.Channels.Select((channel, i) => Interface(i, channel, unit, DurationOf(ticks)));
    }

    private Stop Parse(ReadOnlySpan<byte> octets, out int taken)
    {
        ReadOnlySpan<int> codes = _header.Codes.Short;
        VcdVariable[] variables = _header.Variables;
        int at = 0;
        while (true)
        {
            while (at < octets.Length && octets[at] <= ' ')
            {
                at++;
            }

            taken = at;
            if (at + 2 >= octets.Length)
            {
                return Stop.MoreNeeded; // the shortest word and the space after it
            }

            byte first = octets[at];
            if (_skipping)
            {
                // Falls out below.
            }
            else if (first == '#')
            {
                long units = 0;
                int digits = at + 1;
                for (; digits < octets.Length && octets[digits] is >= (byte)'0' and <= (byte)'9'; digits++)
                {
                    units = unchecked((units * 10) + (octets[digits] - '0'));
                }

                if (digits == octets.Length)
                {
                    return Stop.MoreNeeded;
                }

                if (octets[digits] > ' ' || digits - at - 1 is 0 or > MostDigits)
                {
                    return Refuse(at, octets, "a time of at most 18 digits");
                }

                long sinceFirst = unchecked(units - _first);
                if (_isPlainClock && sinceFirst > _now && sinceFirst - Slice.Start <= SliceTicks && _changes < EdgeSlice.FullAt
                    && _started && sinceFirst <= LastTick && Slice.Runs.Count < EdgeSlice.MostRuns)
                {
                    _now = sinceFirst; // the usual case
                }
                else if (SetTime(units, at) is Stop stop)
                {
                    return stop;
                }

                at = digits + 1;
                continue;
            }
            else if ((first & 0xFE) == '0' && octets[at + 2] <= ' ')
            {
                int number = codes[octets[at + 1]];
                if (number < 0)
                {
                    return Refuse(at, octets, "the code of a declared variable");
                }

                ref readonly VcdVariable variable = ref variables[number];
                if (variable.Width == 1 && variable.FirstChannel >= 0)
                {
                    _started = true;
                    _changes++;
                    Slice.SetKnown(variable.FirstChannel, (LineLevel)(first & 1), _now);
                }
                else
                {
                    Turn(variable, (LineLevel)(first & 1));
                }

                at += 3;
                continue;
            }

            int length = octets[at..].IndexOfAnyInRange((byte)0, (byte)' ');
            if (length < 0)
            {
                return Stop.MoreNeeded;
            }

            switch (Slow(octets[at..], length, at))
            {
                case > 0 and int used:
                    at += used;
                    break;
                case 0:
                    return Stop.MoreNeeded;
                default:
                    return Stop.Wrong;
            }
        }
    }

    // Words that are rare: octets used, 0 where more are needed, less where it is wrong.
    private int Slow(ReadOnlySpan<byte> octets, int length, int at)
    {
        ReadOnlySpan<byte> word = octets[..length];
        if (_skipping)
        {
            _skipping = !word.SequenceEqual("$end"u8);
            return length;
        }

        if (word[0] == '$')
        {
            // What stands between $dumpvars and its $end are values like all others.
            _skipping = !(word.SequenceEqual("$end"u8) || word.StartsWith("$dump"u8));
            return length;
        }

        if (word[0] is (byte)'b' or (byte)'B' or (byte)'r' or (byte)'R' or (byte)'s' or (byte)'S')
        {
            int gap = octets[length..].IndexOfAnyExceptInRange((byte)0, (byte)' ');
            int codeLength = gap < 0 ? -1 : octets[(length + gap)..].IndexOfAnyInRange((byte)0, (byte)' ');
            if (codeLength < 0)
            {
                return 0;
            }

            int code = _header.Codes.Find(octets.Slice(length + gap, codeLength));
            bool good = code >= 0 && (word[0] is not ((byte)'b' or (byte)'B') || SetVector(_header.Variables[code], word[1..]));
            return good ? length + gap + codeLength : Refused(at, octets, "bits and the code of a declared variable");
        }

        if (LevelOf(word[0]) is not LineLevel level || _header.Codes.Find(word[1..]) is not (>= 0 and int variable))
        {
            return Refused(at, octets, "a time, or a value and the code of a declared variable");
        }

        VcdVariable target = _header.Variables[variable];
        if (target.FirstChannel >= 0)
        {
            for (int i = 0; i < target.Width; i++)
            {
                // A single 0 or x of a wider variable stands for all its bits; a single 1 for the lowest.
                Set(target.FirstChannel + i, level == LineLevel.High && i < target.Width - 1 ? LineLevel.Low : level);
            }
        }

        return length;
    }

    private static LineLevel? LevelOf(byte value) => (char)(value | 0x20) switch
    {
        '0' => LineLevel.Low,
        '1' => LineLevel.High,
        'x' or 'z' or 'u' or 'w' => LineLevel.Unknown,
        _ => null,
    };

    private bool SetVector(VcdVariable variable, ReadOnlySpan<byte> bits)
    {
        if (bits.IsEmpty || bits.ContainsAnyExcept(Bits))
        {
            return false;
        }

        if (variable.FirstChannel < 0)
        {
            return true;
        }

        bits = bits.Length > variable.Width ? bits[^variable.Width..] : bits;
        int missing = variable.Width - bits.Length;
        LineLevel left = LevelOf(bits[0]) is LineLevel.Unknown ? LineLevel.Unknown : LineLevel.Low;
        for (int i = 0; i < variable.Width; i++)
        {
            Set(variable.FirstChannel + i, i < missing ? left : LevelOf(bits[i - missing]) ?? LineLevel.Unknown);
        }

        return true;
    }

    private void Turn(VcdVariable variable, LineLevel level)
    {
        if (variable.Width != 1)
        {
            for (int i = 0; i < variable.Width; i++)
            {
                Set(variable.FirstChannel + i, i < variable.Width - 1 ? LineLevel.Low : level);
            }
        }
        else if (variable.FirstChannel >= 0)
        {
            Set(variable.FirstChannel, level);
        }
    }

    private void Set(int channel, LineLevel level)
    {
        _started = true; // a value before the first time is one at time 0
        _changes++;
        Slice.Set(channel, level, _now);
    }

    // Null to go on.
    private Stop? SetTime(long units, int at)
    {
        long tick = units;
        if (!_isPlainClock && !TryScale(units, out tick))
        {
            tick = long.MaxValue;
        }

        if (!_started)
        {
            _started = true;
            _first = tick;
            if (tick is > 0 and < long.MaxValue)
            {
                Assume($"Times are counted from the first of the file, #{units}.");
            }
        }

        tick -= _first;
        if (tick <= _now)
        {
            return tick == _now ? null : WrongTime(at, "a time not before the one before it");
        }

        if (tick > LastTick)
        {
            return WrongTime(at, "a time within 7 days");
        }

        if (tick - Slice.Start > SliceTicks || (_changes >= EdgeSlice.FullAt && _now > Slice.Start) || Slice.Runs.Count >= EdgeSlice.MostRuns)
        {
            // An edge at the tick itself must not fall on the start of a slice.
            long idleEnd = Math.Min(tick - 1, Slice.Start + EdgeSlice.LongestIdle);
            _closeAt = _now > Slice.Start ? _now : idleEnd;
            if (_closeAt > Slice.Start)
            {
                _now = _closeAt;
                return Stop.SliceFull;
            }
        }

        _now = tick;
        return null;
    }

    private bool TryScale(long units, out long tick)
    {
        Int128 scaled = (Int128)units * _header.TicksPerUnit / _header.UnitsPerTick;
        tick = scaled < long.MaxValue ? (long)scaled : 0;
        return scaled < long.MaxValue;
    }

    private Stop WrongTime(int at, string expected)
    {
        ReadOnlySpan<byte> word = Window.Peek(Window.Available)[at..];
        return Refuse(at, word, expected, 0);
    }

    private Stop Refuse(int at, ReadOnlySpan<byte> octets, string expected) => Refuse(at, octets, expected, at);

    private Stop Refuse(int at, ReadOnlySpan<byte> octets, string expected, int wordAt)
    {
        _ = Refused(at, octets[wordAt..], expected);
        return Stop.Wrong;
    }

    private int Refused(int at, ReadOnlySpan<byte> word, string expected)
    {
        int length = word.IndexOfAnyInRange((byte)0, (byte)' ');
        word = length < 0 ? word : word[..length];
        Problem = Wrong(at, expected, Encoding.Latin1.GetString(word[..Math.Min(word.Length, 40)]));
        return -1;
    }

    private InputProblem Wrong(int at, string expected, string found) =>
        _damage.Wrong("the VCD file cannot be read further", Window.Position + at, expected, found, _now);

    // The last word has no white space after it: whole, or cut?
    private InputProblem? WhatIsLeft()
    {
        ReadOnlySpan<byte> word = Window.Peek(Window.Available);
        if (word.IsEmpty || (_skipping && word.SequenceEqual("$end"u8)))
        {
            return null;
        }

        if (!_skipping && word.Length > 1 && word.IndexOfAnyInRange((byte)0, (byte)' ') < 0 && LevelOf(word[0]) is not null
            && _header.Codes.Find(word[1..]) >= 0 && !_header.Codes.IsStartOfAnother(word[1..]))
        {
            return Slow(word, word.Length, 0) > 0 ? null : Problem;
        }

        return word.SequenceEqual("$end"u8)
            ? null
            : _damage.Wrong(
                "the VCD file ends inside a word", Window.Position, "white space after it", Encoding.Latin1.GetString(word[..Math.Min(word.Length, 40)]), _now);
    }
}
