using System.Globalization;
using System.Text;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Protocols.CaptureFiles.Lines;

/// <summary>The declarations of a VCD file (standards-facts F1), up to <c>$enddefinitions $end</c>.</summary>
internal sealed class VcdHeader
{
    private const int Largest = 16 * 1024 * 1024;
    private const int LongestName = 255;
    private const int MostVariables = 65_536;
    private const long FinestTicksPerSecond = 1_000_000_000_000;

    private static readonly string[] Keywords =
        ["$date", "$version", "$timescale", "$comment", "$scope", "$var", "$upscope", "$enddefinitions", "$attrbegin"];

    private readonly List<string> _scopes = [];
    private readonly List<(string Scope, string Name)> _channels = [];
    private readonly List<VcdVariable> _variables = [];
    private readonly List<string> _assumptions = [];
    private int _leftOut;
    private int _otherKinds;

    /// <summary>Names of the channels; untrusted text.</summary>
    public IReadOnlyList<string> Channels { get; private set; } = [];

    /// <summary>The variables by number.</summary>
    public VcdVariable[] Variables { get; private set; } = [];

    /// <summary>Their codes.</summary>
    public VcdIdentifiers Codes { get; } = new();

    /// <summary>Clock of the runs.</summary>
    public long TicksPerSecond { get; private set; } = 1_000_000_000;

    /// <summary>Ticks of one unit of the file's time; 1 and a divisor where the file is finer than a picosecond.</summary>
    public long TicksPerUnit { get; private set; } = 1;

    /// <summary>Units of the file's time in one tick.</summary>
    public long UnitsPerTick { get; private set; } = 1;

    /// <summary>The time unit as text; empty where it is not stated.</summary>
    public string Unit { get; private set; } = "";

    /// <summary>The sampling rate that a comment states, or 0.</summary>
    public long StatedRate { get; private set; }

    /// <summary>What was assumed.</summary>
    public IReadOnlyList<string> Assumptions => _assumptions;

    /// <summary>Whether octets look like the start of a VCD file.</summary>
    public static bool IsVcd(ReadOnlySpan<byte> head)
    {
        head = WithoutMark(head).TrimStart(" \t\r\n"u8);
        int length = head.IndexOfAny(" \t\r\n"u8);
        return length > 0 && head[0] == '$' && Keywords.Contains(Encoding.Latin1.GetString(head[..length]), StringComparer.Ordinal);
    }

    /// <summary>Reads the header.</summary>
    /// <exception cref="InputException">It is cut or declares nothing that can be read.</exception>
    public static VcdHeader Read(ByteWindow window, LineDamage damage, string name)
    {
        VcdHeader header = new();
        int length = Measure(window, damage, name);
        header.Parse(Encoding.UTF8.GetString(WithoutMark(window.Peek(length))), name);
        window.Skip(length);
        if (header._channels.Count == 0)
        {
            throw new InputException(name, damage.At("the VCD file declares no variable that can be a line", "", "$var wire 1 or the like", header._otherKinds > 0 ? "variables of other kinds only" : "none", 0));
        }

        header.Finish();
        return header;
    }

    private static ReadOnlySpan<byte> WithoutMark(ReadOnlySpan<byte> head) =>
        head.StartsWith("\uFEFF"u8) ? head[3..] : head;

    // Octets up to the $end after $enddefinitions.
    private static int Measure(ByteWindow window, LineDamage damage, string name)
    {
        int from = 0;
        while (true)
        {
            ReadOnlySpan<byte> octets = window.Peek(window.Available);
            int at = octets[from..].IndexOf("$enddefinitions"u8);
            if (at >= 0)
            {
                int close = IndexOfEnd(octets[(from + at + "$enddefinitions".Length)..]);
                if (close >= 0)
                {
                    return from + at + "$enddefinitions".Length + close;
                }
            }

            from = Math.Max(0, (at >= 0 ? from + at : octets.Length) - "$enddefinitions".Length);
            if (octets.Length >= Largest || !window.Has(octets.Length + 1))
            {
                throw new InputException(name, window.Failure is not null
                    ? damage.Unreadable(window, 0)
                    : damage.Wrong("the VCD file ends inside its header", window.Position + window.Available, "$enddefinitions $end", octets.Length >= Largest ? "more than 16 MiB of header" : "the end of the file", 0));
            }
        }
    }

    private static int IndexOfEnd(ReadOnlySpan<byte> octets)
    {
        int at = octets.IndexOf("$end"u8);
        return at < 0 ? -1 : at + "$end".Length;
    }

    private void Parse(string text, string name)
    {
        string[] words = text.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries);
        for (int i = 0; i < words.Length;)
        {
            int end = Array.IndexOf(words, "$end", i);
            end = end < 0 ? words.Length : end;
            ReadOnlySpan<string> inside = words.AsSpan(Math.Min(i + 1, end)..end);
            switch (words[i])
            {
                case "$timescale":
                    TakeTimescale(string.Concat(inside), name);
                    break;
                case "$comment" or "$version" when StatedRate == 0:
                    StatedRate = Rates.TryFind(string.Join(' ', inside!), out long rate) ? rate : 0;
                    break;
                case "$scope" when _scopes.Count < 64:
                    _scopes.Add(inside.IsEmpty ? "" : inside[^1]);
                    break;
                case "$upscope" when _scopes.Count > 0:
                    _scopes.RemoveAt(_scopes.Count - 1);
                    break;
                case "$var" when inside.Length >= 4:
                    TakeVariable(inside);
                    break;
            }

            i = end + 1;
        }
    }

    private void TakeTimescale(string text, string name)
    {
        (string Unit, long PerSecond)[] units =
            [("s", 1), ("ms", 1_000), ("us", 1_000_000), ("ns", 1_000_000_000), ("ps", 1_000_000_000_000), ("fs", 1_000_000_000_000_000)];
        foreach ((string unit, long perSecond) in units)
        {
            foreach (long number in (ReadOnlySpan<long>)[1, 10, 100])
            {
                if (text != number.ToString(CultureInfo.InvariantCulture) + unit)
                {
                    continue;
                }

                Unit = number.ToString(CultureInfo.InvariantCulture) + " " + unit;
                TicksPerSecond = Math.Max(1, perSecond / number);
                TicksPerUnit = perSecond == 1 ? number : 1;
                if (TicksPerSecond > FinestTicksPerSecond)
                {
                    UnitsPerTick = TicksPerSecond / FinestTicksPerSecond;
                    TicksPerSecond = FinestTicksPerSecond;
                }

                return;
            }
        }

        throw new InputException(name, new InputProblem("the VCD file states a time unit that cannot be", "", "$timescale 1, 10 or 100 and s, ms, us, ns, ps or fs", text, "save it again"));
    }

    private void TakeVariable(ReadOnlySpan<string> words)
    {
        byte[] code = Encoding.Latin1.GetBytes(words[2]);
        bool isNumber = int.TryParse(words[1], NumberStyles.None, CultureInfo.InvariantCulture, out int width);
        bool isLevel = words[0] is not ("real" or "realtime" or "event" or "parameter" or "string" or "time") && isNumber && width > 0;
        if (_variables.Count >= MostVariables || code.Length > VcdIdentifiers.LongestCode || !Codes.TryAdd(code, _variables.Count))
        {
            return; // a second name of the same variable, or one too many
        }

        int room = LineSource.MostChannels - _channels.Count;
        if (!isLevel || width > room)
        {
            _variables.Add(new VcdVariable(-1, 1));
            _leftOut += isLevel ? 1 : 0;
            _otherKinds += isLevel ? 0 : 1;
            return;
        }

        _variables.Add(new VcdVariable(_channels.Count, width));
        string name = string.Join(' ', words[3..]!);
        name = name.Length > LongestName ? name[..LongestName] : name;
        (string bare, int high, int step) = Range(name, width);
        for (int i = 0; i < width; i++)
        {
            _channels.Add((string.Join('.', _scopes), width == 1 ? name : string.Create(CultureInfo.InvariantCulture, $"{bare}[{high + (i * step)}]")));
        }
    }

    // "bus [7:0]" names its bits 7 to 0, highest first; without a range they are numbered down to 0.
    private static (string Bare, int High, int Step) Range(string name, int width)
    {
        int open = name.LastIndexOf('[');
        if (width > 1 && open >= 0 && name.EndsWith(']'))
        {
            string[] ends = name[(open + 1)..^1].Split(':');
            if (ends.Length == 2
                && int.TryParse(ends[0], NumberStyles.None, CultureInfo.InvariantCulture, out int first)
                && int.TryParse(ends[1], NumberStyles.None, CultureInfo.InvariantCulture, out int last)
                && Math.Abs((long)first - last) == width - 1)
            {
                return (name[..open].TrimEnd(), first, first > last ? -1 : 1);
            }
        }

        return (name, width - 1, -1);
    }

    private void Finish()
    {
        Variables = [.. _variables];
        HashSet<string> twice = [.. _channels.GroupBy(channel => channel.Name).Where(group => group.Count() > 1).Select(group => group.Key)];
        Channels = [.. _channels.Select(channel => twice.Contains(channel.Name) && channel.Scope.Length > 0 ? channel.Scope + "." + channel.Name : channel.Name)];
        if (Unit.Length == 0)
        {
            _assumptions.Add("The VCD file states no time unit; 1 ns is assumed.");
        }

        if (UnitsPerTick > 1)
        {
            _assumptions.Add("Times finer than 1 ps are rounded down to it.");
        }

        if (_leftOut > 0)
        {
            _assumptions.Add($"The first {_channels.Count} lines are read; {_leftOut} variables after them are left out.");
        }

        if (_otherKinds > 0)
        {
            _assumptions.Add($"{_otherKinds} variables that are no logic levels (real, event and the like) are not read.");
        }
    }
}
