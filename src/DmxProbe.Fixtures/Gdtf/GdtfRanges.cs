using System.Globalization;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Tables;

namespace DmxProbe.Fixtures.Gdtf;

/// <summary>Makes the ranges of a slot from the functions and sets of its channel.</summary>
/// <param name="placed">The channel.</param>
/// <param name="conditions">What a function depends on.</param>
/// <param name="wheels">Names of the slots of the wheels, by wheel.</param>
/// <param name="units">Physical units by attribute.</param>
internal sealed class GdtfRanges(PlacedChannel placed, Func<GdtfFunction, GdtfCondition> conditions, GdtfNode? wheels, IReadOnlyDictionary<string, string> units)
{
    private const double Near = 0.02;
    private readonly long _top = (1L << (8 * placed.Bytes)) - 1;

    /// <summary>The ranges; those without a condition cover everything.</summary>
    /// <param name="unclear">What the file says and cannot be followed; empty when all can.</param>
    public List<ExactRange> Make(out string unclear)
    {
        unclear = "";
        List<(GdtfFunction Function, SlotCondition? When)> held = [];
        bool always = false;
        foreach (GdtfFunction function in placed.Channel.Functions)
        {
            if (!function.IsReadable)
            {
                unclear = $"its values are none: DMXFrom {Shown.Cell(function.Node["DMXFrom"] ?? "")}";
                return [new ExactRange(0, _top, unclear, RangeEffect.Unknown)];
            }

            GdtfCondition condition = function.ModeMaster.Length == 0 ? GdtfCondition.None : conditions(function);
            switch (condition.State)
            {
                case GdtfConditionState.Unclear:
                    unclear = $"it depends on {Shown.Quoted(function.ModeMaster)}, which is not in this mode";
                    return [new ExactRange(0, _top, unclear, RangeEffect.Unknown)];
                case GdtfConditionState.Never:
                    break;
                case GdtfConditionState.Always:
                    // What holds by the default of a virtual channel takes the place of what holds without a condition.
                    held.RemoveAll(other => !always && other.When is null);
                    always = true;
                    held.Add((function, null));
                    break;
                default:
                    if (condition.When is not null || !always)
                    {
                        held.Add((function, condition.When));
                    }

                    break;
            }
        }

        List<ExactRange> ranges = [];
        foreach (IGrouping<SlotCondition?, (GdtfFunction Function, SlotCondition? When)> layer in held.GroupBy(pair => pair.When))
        {
            AddLayer(ranges, [.. layer.Select(pair => pair.Function)], layer.Key);
        }

        return ranges.Count > 0 ? ranges : [new ExactRange(0, _top, "", RangeEffect.Unknown)];
    }

    private void AddLayer(List<ExactRange> ranges, List<GdtfFunction> functions, SlotCondition? when)
    {
        functions = [.. functions.OrderBy(function => function.From.At(placed.Bytes))];
        long first = functions[0].From.At(placed.Bytes);
        if (first > 0 && when is null)
        {
            ranges.Add(new ExactRange(0, first - 1, "", RangeEffect.Unknown));
        }

        for (int i = 0; i < functions.Count; i++)
        {
            long from = functions[i].From.At(placed.Bytes);
            long to = i + 1 < functions.Count ? functions[i + 1].From.At(placed.Bytes) - 1 : _top;
            if (from <= to)
            {
                AddFunction(ranges, functions[i], from, to, when);
            }
        }
    }

    private void AddFunction(List<ExactRange> ranges, GdtfFunction function, long from, long to, SlotCondition? when)
    {
        List<(long From, GdtfNode Node)> sets = [];
        foreach (GdtfNode set in function.Node.All("ChannelSet"))
        {
            if (DmxValue.TryParse(set["DMXFrom"] ?? "0/1", out DmxValue value) && value.At(placed.Bytes) <= to)
            {
                sets.Add((Math.Max(from, value.At(placed.Bytes)), set));
            }
        }

        sets = [.. sets.OrderBy(set => set.From)];
        if (sets.Count == 0 || sets[0].From > from)
        {
            Add(ranges, function, null, (from, to), (from, sets.Count == 0 ? to : sets[0].From - 1), when);
        }

        for (int i = 0; i < sets.Count; i++)
        {
            long end = i + 1 < sets.Count ? sets[i + 1].From - 1 : to;
            if (sets[i].From <= end)
            {
                Add(ranges, function, sets[i].Node, (from, to), (sets[i].From, end), when);
            }
        }
    }

    private void Add(List<ExactRange> ranges, GdtfFunction function, GdtfNode? set, (long From, long To) whole, (long From, long To) part, SlotCondition? when)
    {
        string name = CellText.Fit(set?["Name"] ?? "", ChartReader.MaxMeaning / 2);
        bool wheel = function.Node["Wheel"] is { Length: > 0 } && int.TryParse(set?["WheelSlotIndex"], NumberStyles.None, CultureInfo.InvariantCulture, out int index) && index > 0;
        if (name.Length == 0 && wheel)
        {
            name = WheelSlot(function.Node["Wheel"]!, set!["WheelSlotIndex"]!);
        }

        RangeEffect effect = Compatible(function.Attribute, EffectOf(function, set, name, wheel, whole, part));
        ranges.Add(new ExactRange(part.From, part.To, Meaning(function, name, set is null), effect) { When = when });
    }

    /// <summary>A slot has one role for the light: what of another kind is in it is not followed.</summary>
    private RangeEffect Compatible(GdtfAttribute attribute, RangeEffect effect)
    {
        SlotRole slot = placed.Attribute.Role, own = attribute.Role;
        bool fits = own == slot || effect is RangeEffect.NoFunction or RangeEffect.ControlAction or RangeEffect.ProgrammeRuns or RangeEffect.Flashing ||
            (PlacedChannel.IsLight(slot) ? own == SlotRole.Shutter && effect is RangeEffect.Open or RangeEffect.Closed : !PlacedChannel.IsLight(own) && own != SlotRole.Unknown);
        return fits ? effect : RangeEffect.Unknown;
    }

    private static RangeEffect EffectOf(GdtfFunction function, GdtfNode? set, string name, bool wheel, (long From, long To) whole, (long From, long To) part)
    {
        GdtfAttribute attribute = function.Attribute;
        SlotRole read = attribute.Kind == AttributeKind.Strobe ? SlotRole.Shutter : attribute.Role; // an iris that pulses, too
        RangeEffect? said = name.Length == 0 ? null : EffectInference.EffectOf(read, attribute.Word, name);
        if (said == RangeEffect.NoFunction && attribute.Kind != AttributeKind.Unknown)
        {
            return RangeEffect.NoFunction;
        }

        double from = GdtfFunction.Physical(set?["PhysicalFrom"], function.PhysicalFrom), to = GdtfFunction.Physical(set?["PhysicalTo"], function.PhysicalTo);
        return attribute.Kind switch
        {
            AttributeKind.Nothing => said == RangeEffect.ControlAction ? said.Value : RangeEffect.NoFunction,
            AttributeKind.Amount => said is RangeEffect.Flashing or RangeEffect.ControlAction or RangeEffect.ProgrammeRuns ? said.Value : OfAmount(function, set, whole, part, from, to),
            AttributeKind.Shutter => said is RangeEffect.Open or RangeEffect.Closed or RangeEffect.Flashing or RangeEffect.ControlAction ? said.Value
                : from.Equals(to) ? OfLevel(from, to) : RangeEffect.Unknown, // half open may be anything
            AttributeKind.Strobe => said is RangeEffect.Open or RangeEffect.Closed ? said.Value : RangeEffect.Flashing,
            AttributeKind.Steady or AttributeKind.Select => OfSetting(attribute, said, name, wheel, from.Equals(to)),
            AttributeKind.Programme => RangeEffect.ProgrammeRuns,
            AttributeKind.Speed => RangeEffect.Proportional,
            AttributeKind.Action => RangeEffect.ControlAction,
            AttributeKind.Setting => said == RangeEffect.ControlAction ? RangeEffect.ControlAction : name.Length > 0 || from.Equals(to) ? RangeEffect.Fixed : RangeEffect.Unknown,
            AttributeKind.Hazard => said is RangeEffect.Closed ? RangeEffect.Closed : name.Length == 0 && from < to ? RangeEffect.Proportional : RangeEffect.Unknown,
            _ => RangeEffect.Unknown,
        };
    }

    private static RangeEffect OfSetting(GdtfAttribute attribute, RangeEffect? said, string name, bool wheel, bool steady)
    {
        string words = ChartWords.Of(name);
        return said == RangeEffect.ControlAction && ChartWords.Has(words, ["RESET", "CALIBRATE", "CALIBRATION", "REBOOT"]) ? RangeEffect.ControlAction
            : said is RangeEffect.Open or RangeEffect.Closed && ChartWords.Has(words, ["OPEN", "CLOSED", "CLOSE"]) ? said.Value // not "dark blue"
            : wheel || steady || (name.Length > 0 && attribute.Kind == AttributeKind.Select) ? RangeEffect.Fixed : RangeEffect.Proportional;
    }

    /// <summary>An amount of light: a ramp over the whole function, on which the sets are marks; unless a set has a level of its own.</summary>
    private static RangeEffect OfAmount(GdtfFunction function, GdtfNode? set, (long From, long To) whole, (long From, long To) part, double from, double to)
    {
        double span = function.PhysicalTo - function.PhysicalFrom;
        if (span <= 0 || (set?["PhysicalFrom"] is null && set?["PhysicalTo"] is null))
        {
            return OfLevel(function.PhysicalFrom, function.PhysicalTo);
        }

        double At(long value) => function.PhysicalFrom + (span * (value - whole.From) / Math.Max(1, whole.To - whole.From));
        bool onRamp = Math.Abs(At(part.From) - from) <= span * Near && Math.Abs(At(part.To) - to) <= span * Near;
        bool inherits = from.Equals(function.PhysicalFrom) && to.Equals(function.PhysicalTo);
        return onRamp || inherits ? RangeEffect.Proportional
            : !from.Equals(to) ? RangeEffect.Unknown
            : OfLevel(from / function.PhysicalTo, to / function.PhysicalTo);
    }

    private static RangeEffect OfLevel(double from, double to) =>
        from < to ? from <= 0 ? RangeEffect.Proportional : RangeEffect.Unknown
        : from > to ? RangeEffect.Unknown // a falling ramp: better not predictable than upside down
        : from <= 0 ? RangeEffect.Closed : from >= 1 ? RangeEffect.Open : RangeEffect.Unknown;

    private string Meaning(GdtfFunction function, string name, bool plain)
    {
        GdtfAttribute attribute = function.Attribute;
        string text = name;
        if (attribute.Word != placed.Attribute.Word || attribute.Kind == AttributeKind.Unknown)
        {
            text = name.Length > 0 ? $"{attribute.Word}: {name}" : attribute.Word;
        }

        if (attribute.Kind == AttributeKind.Unknown && CellText.Fit(function.Node["OriginalAttribute"] ?? "", ChartReader.MaxName) is { Length: > 0 } original)
        {
            text += $" ({original})";
        }

        if (plain && units.TryGetValue(function.Node["Attribute"] ?? "", out string? unit) && !function.PhysicalFrom.Equals(function.PhysicalTo))
        {
            string physical = string.Create(CultureInfo.InvariantCulture, $"{function.PhysicalFrom:0.###} to {function.PhysicalTo:0.###} {unit}");
            text = text.Length > 0 ? text + ", " + physical : physical;
        }

        return CellText.Fit(text, ChartReader.MaxMeaning);
    }

    private string WheelSlot(string wheel, string index)
    {
        GdtfNode? node = wheels?.Children.FirstOrDefault(known => known["Name"] == wheel);
        int at = int.Parse(index, NumberStyles.None, CultureInfo.InvariantCulture) - 1;
        return node is not null && at < node.Children.Count ? CellText.Fit(node.Children[at]["Name"] ?? "", ChartReader.MaxName) : "";
    }
}
