using System.Globalization;
using System.Text.Json;
using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Fixtures.FixtureJson;

/// <summary>The channels of a fixture, found by the names its modes use.</summary>
internal sealed class JsonChannels
{
    private const string Pixel = "$pixelKey";
    private const int MaxTemplates = 200;
    private readonly Dictionary<string, JsonElement> _available = new(StringComparer.Ordinal);
    private readonly List<(string Key, JsonElement Channel)> _templates = [];
    private readonly Dictionary<string, (string Key, int Byte)> _fine = new(StringComparer.Ordinal);
    private readonly List<(string Alias, int Template, int Byte)> _templateFine = [];
    private readonly Dictionary<string, JsonChannel> _read = new(StringComparer.Ordinal);
    private readonly JsonElement? _wheels;
    private readonly bool _hazard;

    public JsonChannels(JsonElement fixture, JsonPixels pixels)
    {
        Pixels = pixels;
        _wheels = fixture.Get("wheels");
        _hazard = fixture.Get("categories").Texts().Any(category => category is "Hazer" or "Smoke" or "Laser");
        foreach ((string key, JsonElement channel) in fixture.Get("availableChannels").Properties())
        {
            _available[key] = channel;
            int octet = 1;
            foreach (string alias in channel.Get("fineChannelAliases").Texts())
            {
                _fine.TryAdd(alias, (key, octet++));
            }
        }

        foreach ((string key, JsonElement channel) in fixture.Get("templateChannels").Properties().Take(MaxTemplates))
        {
            int octet = 1;
            foreach (string alias in channel.Get("fineChannelAliases").Texts().Take(3))
            {
                _templateFine.Add((alias, _templates.Count, octet++));
            }

            _templates.Add((key, channel));
        }
    }

    public JsonPixels Pixels { get; }

    /// <summary>Whether the file has channels at all.</summary>
    public bool Any => _available.Count > 0 || _templates.Count > 0;

    /// <summary>The channel of a name; null when there is none of it.</summary>
    public JsonChannel? Find(string name)
    {
        if (_read.TryGetValue(name, out JsonChannel? known))
        {
            return known;
        }

        if (_available.TryGetValue(name, out JsonElement channel))
        {
            return _read[name] = Read(name, "", channel);
        }

        foreach ((string key, JsonElement template) in _templates)
        {
            if (PixelOf(name, key) is string pixel)
            {
                return _read[name] = Read(name, pixel, template);
            }
        }

        return null;
    }

    /// <summary>The channel that a name is a low byte of, and which (1 is the most significant); null when it is none.</summary>
    public (JsonChannel Channel, int Byte)? FindFine(string name)
    {
        if (_fine.TryGetValue(name, out (string Key, int Byte) fine) && Find(fine.Key) is { } channel)
        {
            return (channel, fine.Byte);
        }

        foreach ((string alias, int template, int octet) in _templateFine)
        {
            if (PixelOf(name, alias) is string pixel && Find(_templates[template].Key.Replace(Pixel, pixel, StringComparison.Ordinal)) is { } owner)
            {
                return (owner, octet);
            }
        }

        return null;
    }

    private string? PixelOf(string name, string pattern)
    {
        int at = pattern.IndexOf(Pixel, StringComparison.Ordinal);
        if (at < 0)
        {
            return null;
        }

        string before = pattern[..at], after = pattern[(at + Pixel.Length)..];
        if (name.Length <= before.Length + after.Length || !name.StartsWith(before, StringComparison.Ordinal) || !name.EndsWith(after, StringComparison.Ordinal))
        {
            return null;
        }

        string pixel = name[before.Length..^after.Length];
        return Pixels.Has(pixel) ? pixel : null;
    }

    private JsonChannel Read(string key, string pixel, JsonElement channel)
    {
        string[] fine = [.. channel.Get("fineChannelAliases").Texts().Take(3).Select(alias => alias.Replace(Pixel, pixel, StringComparison.Ordinal))];
        int bytes = channel.Get("dmxValueResolution").Text() switch
        {
            "8bit" => 1,
            "16bit" => 2,
            "24bit" => 3,
            _ => 1 + fine.Length,
        };
        JsonElement[] capabilities = channel.Get("capability") is { } only ? [only] : [.. channel.Get("capabilities").Members()];
        string[] meanings = [.. capabilities.Select(capability => JsonMeaning.Of(capability, _wheels, key))];
        SlotRole mixed = JsonRoles.Mixed(capabilities.Select(JsonKinds.RoleOf));
        SlotRole role = capabilities.Length == 0 ? SlotRole.Unknown
            : _hazard && mixed is not (SlotRole.None or SlotRole.Control or SlotRole.Position) ? SlotRole.Hazard
            : JsonRoles.OrHazard(mixed, key, meanings);
        long top = (1L << (8 * bytes)) - 1;
        List<JsonCapability> read = [];
        for (int i = 0; i < capabilities.Length; i++)
        {
            (long from, long to)? range = channel.Get("capability") is not null ? (0, top) : RangeOf(capabilities[i]);
            if (range is not (var first, var last) || first < 0 || last < first || last > top)
            {
                // Half understood is not understood: nothing is said about any value of it.
                read.Clear();
                break;
            }

            read.Add(new JsonCapability(first, last, role, meanings[i], JsonKinds.EffectOf(capabilities[i], role, key, meanings[i]), Switches(capabilities[i], pixel)));
        }

        IReadOnlyList<JsonCapability>? whole = Whole(read, role, top);
        return new JsonChannel
        {
            Key = key,
            Pixel = pixel,
            Fine = fine,
            Bytes = bytes,
            Default = DefaultOf(channel.Get("defaultValue"), bytes),
            Role = whole is null ? SlotRole.Unknown : role,
            Capabilities = whole ?? [new JsonCapability(0, top, SlotRole.Unknown, "its ranges overlap or are broken", RangeEffect.Unknown, Nothing)],
        };
    }

    private static readonly Dictionary<string, string> Nothing = [];

    private static (long From, long To)? RangeOf(JsonElement capability)
    {
        long?[] bounds = [.. capability.Get("dmxRange").Members().Take(3).Select(bound => ((JsonElement?)bound).Whole())];
        return bounds is [long from, long to] ? (from, to) : null;
    }

    private static Dictionary<string, string> Switches(JsonElement capability, string pixel)
    {
        Dictionary<string, string> switches = new(StringComparer.Ordinal);
        foreach ((string alias, JsonElement target) in capability.Get("switchChannels").Properties())
        {
            switches[alias.Replace(Pixel, pixel, StringComparison.Ordinal)] = ((JsonElement?)target).Text().Replace(Pixel, pixel, StringComparison.Ordinal);
        }

        return switches;
    }

    /// <summary>The capabilities in order with what is missing filled in as unknown; null when two claim one value.</summary>
    private static List<JsonCapability>? Whole(List<JsonCapability> read, SlotRole role, long top)
    {
        if (read.Count == 0)
        {
            return null;
        }

        List<JsonCapability> whole = [];
        long next = 0;
        foreach (JsonCapability capability in read.OrderBy(capability => capability.From))
        {
            if (capability.From < next)
            {
                return null;
            }

            if (capability.From > next)
            {
                whole.Add(new JsonCapability(next, capability.From - 1, role, "", RangeEffect.Unknown, Nothing));
            }

            whole.Add(capability);
            next = capability.To + 1;
        }

        if (next <= top)
        {
            whole.Add(new JsonCapability(next, top, role, "", RangeEffect.Unknown, Nothing));
        }

        return whole;
    }

    private static int? DefaultOf(JsonElement? said, int bytes)
    {
        if (said.Whole() is long value)
        {
            return value >= 0 && value < 1L << (8 * bytes) ? (int)(value >> (8 * (bytes - 1))) : null;
        }

        string text = said.Text();
        return text.EndsWith('%') && double.TryParse(text.AsSpan(0, text.Length - 1), NumberStyles.Float, CultureInfo.InvariantCulture, out double percent) && percent is >= 0 and <= 100
            ? (int)Math.Round(percent / 100 * 255)
            : null;
    }
}
