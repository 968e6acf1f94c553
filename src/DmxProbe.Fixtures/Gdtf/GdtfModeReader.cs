using System.Globalization;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Tables;

namespace DmxProbe.Fixtures.Gdtf;

/// <summary>Reads one DMX mode: places of the channels, then their slots, break by break.</summary>
internal sealed class GdtfModeReader
{
    private const int MaxPlaced = 4096;
    private readonly List<PlacedChannel> _placed = [];
    private readonly GdtfNode _fixture;
    private readonly GdtfNode _mode;
    private readonly string _name;
    private readonly IReadOnlyDictionary<string, string> _units;

    private GdtfModeReader(GdtfNode fixture, GdtfNode mode, string name, IReadOnlyDictionary<string, string> units)
    {
        _fixture = fixture;
        _mode = mode;
        _name = name;
        _units = units;
    }

    /// <summary>Reads a mode: one chart mode for each break (<see cref="GdtfReader.ModeName"/>).</summary>
    /// <param name="fixture">The fixture type.</param>
    /// <param name="mode">The mode.</param>
    /// <param name="name">Its name, unique.</param>
    /// <param name="units">Physical units by attribute.</param>
    /// <param name="notes">Receives why the mode is left out, or what in it could not be followed.</param>
    public static List<ChartMode> Read(GdtfNode fixture, GdtfNode mode, string name, IReadOnlyDictionary<string, string> units, ProblemList notes)
    {
        GdtfModeReader reader = new(fixture, mode, name, units);
        if (!reader.Place(notes))
        {
            return [];
        }

        List<ChartMode> modes = [];
        List<IGrouping<int, PlacedChannel>> parts = [.. reader._placed.Where(placed => placed.Bytes > 0).GroupBy(placed => placed.Break).OrderBy(part => part.Key)];
        foreach (IGrouping<int, PlacedChannel> part in parts)
        {
            List<ChartSlot> slots = reader.Slots([.. part], notes);
            modes.Add(new ChartMode(parts.Count == 1 ? name : GdtfReader.ModeName(name, part.Key), slots, slots[^1].Slot));
        }

        if (modes.Count == 0)
        {
            notes.Add(LeftOut(name, "at least one channel with a slot", "none"));
        }

        return modes;
    }

    private static TableProblem LeftOut(string mode, string expected, string found) =>
        new($"mode {Shown.Quoted(mode)} was left out", 0, "", expected, found, "have the file corrected, or type the mode's chart as CSV");

    private bool Place(ProblemList notes)
    {
        Dictionary<string, List<GdtfInstance>> places = GdtfGeometries.Of(_fixture.Child("Geometries"), _mode["Geometry"] ?? "");
        GdtfInstance[] here = [new GdtfInstance("", "", [])];
        foreach (GdtfNode node in _mode.Child("DMXChannels")?.All("DMXChannel") ?? [])
        {
            if (GdtfChannel.Of(node, out string written) is not { } channel)
            {
                notes.Add(LeftOut(_name, "offsets as numbers from 1, at most 4", Shown.Cell(written)));
                return false;
            }

            foreach (GdtfInstance instance in places.TryGetValue(channel.Geometry, out List<GdtfInstance>? known) ? known : (IReadOnlyList<GdtfInstance>)here)
            {
                (int number, _) = instance.Place(channel.Break, 1);
                long[] slots = [.. channel.Offsets.Select(offset => instance.Place(channel.Break, offset).Offset)];
                if (Array.Find(slots, slot => slot is < 1 or > 512) is var far and not 0)
                {
                    notes.Add(LeftOut(_name, "slots from 1 to 512", string.Create(CultureInfo.InvariantCulture, $"{Shown.Quoted(channel.Name)} on slot {far}")));
                    return false;
                }

                if (_placed.Count == MaxPlaced)
                {
                    notes.Add(LeftOut(_name, $"at most {Shown.Number(MaxPlaced)} channels", "more"));
                    return false;
                }

                _placed.Add(new PlacedChannel(channel, instance, number, [.. slots.Select(slot => (int)slot)]));
            }
        }

        return true;
    }

    private List<ChartSlot> Slots(List<PlacedChannel> part, ProblemList notes)
    {
        HashSet<PlacedChannel> twice = [];
        Dictionary<int, List<PlacedChannel>> takers = [];
        foreach (PlacedChannel placed in part)
        {
            foreach (int slot in placed.Slots)
            {
                takers.TryAdd(slot, []);
                takers[slot].Add(placed);
                if (takers[slot].Count > 1)
                {
                    twice.UnionWith(takers[slot]);
                }
            }
        }

        SortedDictionary<int, ChartSlot> made = [];
        foreach (PlacedChannel placed in part)
        {
            if (twice.Contains(placed))
            {
                foreach (int slot in placed.Slots)
                {
                    string names = CellText.Fit(string.Join(" / ", takers[slot].Select(taker => NameOf(taker, part)).Distinct().Take(4)), ChartReader.MaxName);
                    made[slot] = new ChartSlot(slot, names, SlotRole.Unknown, [new ChartRange(0, 255, takers[slot].Count > 1 ? "several channels claim this slot" : "its other byte is claimed twice", RangeEffect.Unknown)]);
                }

                continue;
            }

            foreach (ChartSlot slot in Made(placed, part, notes))
            {
                made[slot.Slot] = slot;
            }
        }

        if (twice.Count > 0)
        {
            int first = takers.First(pair => pair.Value.Count > 1).Key;
            notes.Add(new TableProblem($"several channels claim one slot in mode {Shown.Quoted(_name)}", 0, "", "one channel a slot", $"{takers[first].Count} on slot {Shown.Number(first)}", "they count as unknown"));
        }

        return [.. made.Values];
    }

    private IEnumerable<ChartSlot> Made(PlacedChannel placed, List<PlacedChannel> part, ProblemList notes)
    {
        string name = NameOf(placed, part);
        List<ExactRange> ranges = new GdtfRanges(placed, function => Condition(function, placed), _fixture.Child("Wheels"), _units).Make(out string unclear);
        if (unclear.Length > 0)
        {
            notes.Add(new TableProblem($"slot {Shown.Number(placed.Slots[0])} of mode {Shown.Quoted(_name)} cannot be followed", 0, "", "", unclear, "it counts as unknown"));
        }

        long? initial = placed.Channel.Default?.At(placed.Bytes);
        SlotRole role = unclear.Length > 0 ? SlotRole.Unknown : placed.Attribute.Role;
        ChartSlot high = new(placed.Slots[0], name, role, [])
        {
            LowSlots = [.. placed.Slots.Skip(1)],
            Default = (int?)(initial >> (8 * (placed.Bytes - 1))),
            Cell = CellOf(placed, part),
        };
        yield return SlotDetail.With(high, ranges);
        for (int i = 1; i < placed.Bytes; i++)
        {
            string low = name + (i == 1 ? " fine" : string.Create(CultureInfo.InvariantCulture, $" fine {i}"));
            yield return new ChartSlot(placed.Slots[i], low, SlotRole.Fine, [new ChartRange(0, 255, "", RangeEffect.Proportional)])
            {
                Default = (int?)((initial >> (8 * (placed.Bytes - 1 - i))) & 0xFF),
            };
        }
    }

    private static string NameOf(PlacedChannel placed, List<PlacedChannel> part)
    {
        string word = placed.Attribute.Word;
        bool several = part.Exists(other => other != placed && other.Attribute.Word == word);
        string where = placed.Instance.Cell.Length > 0 ? placed.Instance.Cell : placed.Channel.Geometry;
        where = CellText.Fit(where, 40);
        return several && where.Length > 0 ? CellText.Fit($"{word} ({where})", ChartReader.MaxName - 10) : word;
    }

    /// <summary>The cell of a channel of which there are several alike; what stands above the others in the tree is for all of them.</summary>
    private static string CellOf(PlacedChannel placed, List<PlacedChannel> part)
    {
        List<PlacedChannel> alike = [.. part.Where(other => other != placed && other.Attribute.Role == placed.Attribute.Role && other.Instance.Path != placed.Instance.Path)];
        return alike.Count == 0 || alike.Exists(other => placed.Instance.IsAbove(other.Instance)) ? ""
            : CellText.Fit(placed.Instance.Cell.Length > 0 ? placed.Instance.Cell : placed.Channel.Geometry, ChartReader.MaxName);
    }

    private GdtfCondition Condition(GdtfFunction function, PlacedChannel placed)
    {
        string link = function.ModeMaster;
        int point = link.IndexOf('.', StringComparison.Ordinal);
        string channel = point < 0 ? link : link[..point];
        List<PlacedChannel> masters = [.. _placed.Where(other => other.Channel.Name == channel)];
        PlacedChannel? master = masters.Find(other => other.Instance.References.Count > 0 && other.Instance.Cell == placed.Instance.Cell) ?? masters.FirstOrDefault();
        if (master is null || (master.Bytes > 0 && (master.Break != placed.Break || ReferenceEquals(master, placed))))
        {
            return new GdtfCondition(GdtfConditionState.Unclear, null);
        }

        int bytes = Math.Max(1, master.Bytes);
        long from = function.ModeFrom.At(bytes), to = function.ModeTo.EndAt(bytes);
        if (from > to)
        {
            return new GdtfCondition(GdtfConditionState.Never, null);
        }

        if (master.Bytes > 0)
        {
            return new GdtfCondition(GdtfConditionState.Slot, new SlotCondition(master.Slots[0], from, to));
        }

        // A channel without a slot is worked by the controller alone: what its default chooses is what the fixture has.
        long value = master.Channel.Default?.At(4) ?? 0;
        bool holds = value >= function.ModeFrom.At(4) && value <= function.ModeTo.EndAt(4);
        return new GdtfCondition(holds ? GdtfConditionState.Always : GdtfConditionState.Never, null);
    }
}
