using System.Text.Json;
using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Fixtures.FixtureJson;

/// <summary>Makes the slots of one mode from its list of channel names.</summary>
internal sealed class JsonMode(JsonChannels channels)
{
    private const int MaxSlots = 512;

    /// <summary>The names in the order of the slots, empty for a slot that is not used; null when there are more than 512.</summary>
    public IReadOnlyList<string>? Names(JsonElement mode)
    {
        List<string> names = [];
        foreach (JsonElement entry in mode.Get("channels").Members())
        {
            if (entry.ValueKind == JsonValueKind.Object)
            {
                names.AddRange(Inserted(entry).Take(MaxSlots + 1));
            }
            else
            {
                names.Add(((JsonElement?)entry).Text());
            }

            if (names.Count > MaxSlots)
            {
                return null;
            }
        }

        return names;
    }

    /// <summary>The slots.</summary>
    public IReadOnlyList<ChartSlot> Slots(IReadOnlyList<string> names)
    {
        Dictionary<string, int> places = new(StringComparer.Ordinal);
        for (int i = 0; i < names.Count; i++)
        {
            places.TryAdd(names[i], i + 1);
        }

        return [.. names.Select((name, index) => Slot(name, index + 1, places))];
    }

    private IEnumerable<string> Inserted(JsonElement entry)
    {
        string[] templates = [.. entry.Get("templateChannels").Members().Select(member => ((JsonElement?)member).Text())];
        IReadOnlyList<string> pixels = entry.Get("repeatFor") switch
        {
            { ValueKind: JsonValueKind.String } order => channels.Pixels.InOrder(((JsonElement?)order).Text()) ?? [],
            { ValueKind: JsonValueKind.Array } list => [.. ((JsonElement?)list).Texts()],
            _ => [],
        };
        return entry.Get("channelOrder").Text() == "perChannel"
            ? templates.SelectMany(template => pixels.Select(pixel => In(template, pixel)))
            : pixels.SelectMany(pixel => templates.Select(template => In(template, pixel)));
    }

    private static string In(string template, string pixel) => template.Replace("$pixelKey", pixel, StringComparison.Ordinal);

    private ChartSlot Slot(string name, int slot, Dictionary<string, int> places)
    {
        if (name.Length == 0)
        {
            return new ChartSlot(slot, "Not used", SlotRole.None, [new ChartRange(0, 255, "", RangeEffect.NoFunction)]);
        }

        string function = CellText.Fit(name, ChartReader.MaxName) is { Length: > 0 } fit ? fit : "unnamed";
        if (channels.Find(name) is { } channel)
        {
            int[] low = Low(channel, places);
            return SlotDetail.With(Start(channel, function, slot) with { LowSlots = low }, Ranges(channel, 1 + low.Length, when: null));
        }

        if (channels.FindFine(name) is not null)
        {
            return new ChartSlot(slot, function, SlotRole.Fine, [new ChartRange(0, 255, "", RangeEffect.Proportional)]);
        }

        return Switched(name, function, slot, places) ?? new ChartSlot(slot, function, SlotRole.Unknown, [new ChartRange(0, 255, "", RangeEffect.Unknown)]);
    }

    private static ChartSlot Start(JsonChannel channel, string function, int slot) =>
        new(slot, function, channel.Role, []) { Default = channel.Default, Cell = CellText.Fit(channel.Pixel, ChartReader.MaxName) };

    /// <summary>Slots of the low bytes the mode has, without a hole.</summary>
    private static int[] Low(JsonChannel channel, Dictionary<string, int> places)
    {
        List<int> low = [];
        foreach (string alias in channel.Fine)
        {
            if (!places.TryGetValue(alias, out int place) || low.Contains(place))
            {
                break;
            }

            low.Add(place);
        }

        return [.. low];
    }

    /// <summary>A name that stands for one channel or another, as the value of a third one says; null when none says it.</summary>
    private ChartSlot? Switched(string name, string function, int slot, Dictionary<string, int> places)
    {
        foreach ((string other, int place) in places.OrderBy(known => known.Value))
        {
            if (other.Length == 0 || channels.Find(other) is not { } master || !master.Capabilities.Any(capability => capability.Switches.ContainsKey(name)))
            {
                continue;
            }

            int bytes = 1 + Low(master, places).Length;
            List<ExactRange> ranges = [];
            List<SlotRole> roles = [];
            foreach (ExactRange held in Ranges(master, bytes, when: null))
            {
                JsonCapability? capability = master.Capabilities.FirstOrDefault(known => Scaled(known.From, master.Bytes, bytes) == held.From);
                if (capability?.Switches.GetValueOrDefault(name) is not string target || channels.Find(target) is not { } channel)
                {
                    roles.Add(SlotRole.Unknown);
                    continue;
                }

                roles.Add(channel.Role);
                SlotCondition when = new(place, held.From, held.To);
                ranges.AddRange(Ranges(channel, 1, when).Select(range => range with { Meaning = CellText.Fit(range.Meaning.Length > 0 ? $"{channel.Key}: {range.Meaning}" : channel.Key, ChartReader.MaxMeaning) }));
            }

            return ranges.Count == 0 ? null : SlotDetail.With(new ChartSlot(slot, function, JsonRoles.Mixed(roles), []), ranges);
        }

        return null;
    }

    /// <summary>The capabilities of a channel at a width; where several share one step none of them is sure.</summary>
    private static List<ExactRange> Ranges(JsonChannel channel, int bytes, SlotCondition? when)
    {
        List<ExactRange> ranges = [];
        foreach (JsonCapability capability in channel.Capabilities)
        {
            long from = Scaled(capability.From, channel.Bytes, bytes), to = Scaled(capability.To + 1, channel.Bytes, bytes) - 1;
            if (bytes < channel.Bytes)
            {
                to = Scaled(capability.To, channel.Bytes, bytes);
                if (ranges.Count > 0 && from <= ranges[^1].To)
                {
                    // The step where one ends and the next begins belongs to both.
                    ExactRange before = ranges[^1];
                    if (before.From == before.To)
                    {
                        ranges.RemoveAt(ranges.Count - 1);
                    }
                    else
                    {
                        ranges[^1] = before with { To = before.To - 1 };
                    }

                    bool same = before.Effect == capability.Effect;
                    string meaning = before.Meaning == capability.Meaning ? before.Meaning : CellText.Fit($"{before.Meaning} / {capability.Meaning}", ChartReader.MaxMeaning);
                    ranges.Add(new ExactRange(from, from, meaning, same ? before.Effect : RangeEffect.Unknown) { When = when });
                    from++;
                }
            }

            if (from <= to)
            {
                ranges.Add(new ExactRange(from, to, capability.Meaning, capability.Effect) { When = when });
            }
        }

        return ranges;
    }

    private static long Scaled(long value, int bytes, int wanted) => wanted >= bytes ? value << (8 * (wanted - bytes)) : value >> (8 * (bytes - wanted));
}
