using System.Globalization;

using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Light;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>Questions in words.</summary>
public static class AskWords
{
    private const int MostRuns = 12;

    /// <summary>Slots as a person reads them: <c>1.001 to 1.040 and 1.061 to 1.137</c>.</summary>
    public static string Slots(AskRig rig, IReadOnlyList<RaisedSlot> raised)
    {
        ArgumentNullException.ThrowIfNull(rig);
        ArgumentNullException.ThrowIfNull(raised);
        IReadOnlyList<SlotRun> runs = SlotRuns.Of(raised);
        return Listed(runs.Select(run => run.From == run.To ? Place(rig, run.Universe, run.From) : Place(rig, run.Universe, run.From) + " to " + Place(rig, run.Universe, run.To)));
    }

    /// <summary>The question: what to bring up, and what is asked.</summary>
    public static string Question(AskRig rig, AskQuestion question)
    {
        ArgumentNullException.ThrowIfNull(rig);
        ArgumentNullException.ThrowIfNull(question);
        string unit = LocateWords.Plain(rig.Unit);
        string lead = (question.Confirms is null ? "" : "To confirm: ") + (question.IsAgain ? "once more, to be sure of the eye: " : "");
        if (question.Look is { } look)
        {
            return lead + "bring up " + Look(rig, question, look) + ". Is " + unit + " lit?";
        }

        if (question.Steps.Count > 0)
        {
            return lead + string.Join("; ", question.Steps.Select(step => Step(rig, step))) + ". Everything else stays as it is" + Stay(rig, question) + ". Is " + unit + " lit now?";
        }

        string holes = Holes(rig, question);
        string level = question.Raised.Count == 0 || question.Raised[0].Level == byte.MaxValue ? "to full"
            : string.Create(CultureInfo.InvariantCulture, $"to {question.Raised[0].Level} ({100.0 * question.Raised[0].Level / 255:0} %)");
        return lead + "with all intensities and colours at 0, raise only " + Slots(rig, question.Raised) + " " + level + Functions(rig, question.Raised) + (holes.Length > 0 ? "; leave " + holes : "") + Stay(rig, question) + ". Is " + unit + " lit?";
    }

    /// <summary>What is up in a question, for the record: a look by its time, else its slots.</summary>
    internal static string Up(AskRig rig, AskQuestion question) =>
        question.Look is Timestamp look ? Look(rig, question, look) : Slots(rig, question.Raised) + " up and everything else down";

    private static string Look(AskRig rig, AskQuestion question, Timestamp time)
    {
        const int few = 8;
        IReadOnlyList<string> lit = LitUnits(rig, question.Levels);
        string[] dark = [.. rig.Units.Where(unit => unit.Universe >= 0 && GivesLight(unit)).Select(unit => LocateWords.Plain(unit.Name)).Except(lit)];
        string units = dark.Length == 0 ? "every light of the sheet up: " + Few(lit)
            : lit.Count > few && dark.Length <= few ? "everything up but " + Listed(dark)
            : Few(lit) + " up";
        return "the look that stood at " + rig.Clock(time) + " (" + (lit.Count == 0 ? "dark" : units) + ")";
    }

    private static string Few(IReadOnlyList<string> units)
    {
        const int few = 8;
        return units.Count <= few ? Listed(units) : string.Create(CultureInfo.InvariantCulture, $"{string.Join(", ", units.Take(few))} and {units.Count - few} more");
    }

    private static bool GivesLight(AskUnit unit) => unit.Mode?.Slots.Any(slot => SlotUses.Of(slot) == SlotUse.Light) == true;

    private static string Step(AskRig rig, FaderStep step)
    {
        string page = string.Create(CultureInfo.InvariantCulture, $"page {step.Page}{(rig.SheetUniverses.Count > 1 ? " of " + Universe(rig, step.Universe) : "")}");
        return step.Up.Count == 0 ? page + ": all faders down" : page + ": only " + Slots(rig, [.. step.Up.Select(slot => new RaisedSlot(step.Universe, slot, step.Level))]) +
            (step.Level == byte.MaxValue ? " to full" : string.Create(CultureInfo.InvariantCulture, $" to {step.Level}")) + ", its other faders down";
    }

    /// <summary>Which functions of which units these are, when they are few.</summary>
    private static string Functions(AskRig rig, IReadOnlyList<RaisedSlot> raised)
    {
        const int few = 6;
        if (raised.Count is 0 or > few)
        {
            return "";
        }

        List<string> names = [];
        foreach (RaisedSlot slot in raised)
        {
            AskUnit? unit = rig.Units.FirstOrDefault(each => each.Universe == slot.Universe && slot.Slot >= each.Address && slot.Slot < each.Address + (each.Mode?.Footprint ?? 1));
            ChartSlot? chart = unit?.Mode?.Find(slot.Slot - unit.Address + 1);
            names.Add(unit is null ? "not on the sheet" : LocateWords.Plain(unit.Name) + (chart is null ? "" : " " + LocateWords.Plain(chart.Function)));
        }

        return " (" + string.Join(", ", names.Distinct()) + ")";
    }

    /// <summary>What is not raised, and must not be lowered either.</summary>
    private static string Stay(AskRig rig, AskQuestion question) => question.Stay.Count == 0 ? ""
        : "; leave " + Listed(question.Stay.Select(slot => Place(rig, slot.Universe, slot.Slot))) + " as " + (question.Stay.Count == 1 ? "it" : "they") + " stood, at " +
            Listed(question.Stay.Select(slot => slot.Level.ToString(CultureInfo.InvariantCulture)));

    /// <summary>What lies between the raised slots of a universe and is left alone.</summary>
    private static string Holes(AskRig rig, AskQuestion question)
    {
        IReadOnlyList<SlotRun> runs = SlotRuns.Of(question.Raised);
        List<string> holes = [];
        for (int i = 1; i < runs.Count; i++)
        {
            if (runs[i].Universe == runs[i - 1].Universe)
            {
                (int from, int to) = (runs[i - 1].To + 1, runs[i].From - 1);
                if (from == to && question.Stay.Any(slot => slot.Universe == runs[i].Universe && slot.Slot == from))
                {
                    continue;
                }

                holes.Add(from == to ? Place(rig, runs[i].Universe, from) : Place(rig, runs[i].Universe, from) + " to " + Place(rig, runs[i].Universe, to));
            }
        }

        return holes.Count > MostRuns ? "everything between them" : Listed(holes);
    }

    /// <summary>The units that such a look lights.</summary>
    internal static IReadOnlyList<string> LitUnits(AskRig rig, IReadOnlyList<byte[]> levels)
    {
        List<string> lit = [];
        foreach (AskUnit unit in rig.Units.Where(unit => unit.Universe >= 0 && unit.Mode is not null))
        {
            int present = Math.Min(unit.Mode!.Footprint, SlotHistory.SlotCount + 1 - unit.Address);
            LightOutput light = new LightModel(unit.Mode).Predict(levels[unit.Universe].AsSpan(unit.Address - 1, present));
            if (Eye.Lit(in light) > 0.5)
            {
                lit.Add(LocateWords.Plain(unit.Name));
            }
        }

        return lit;
    }

    private static string Listed(IEnumerable<string> parts)
    {
        string[] all = [.. parts];
        return all.Length <= 1 ? string.Concat(all) : string.Join(", ", all[..^1]) + " and " + all[^1];
    }

    private static string Universe(AskRig rig, int universe) => rig.SheetUniverses[universe] >= 0
        ? string.Create(CultureInfo.InvariantCulture, $"universe {rig.SheetUniverses[universe]}")
        : rig.Space.Universes[universe].Label;

    private static string Place(AskRig rig, int universe, int slot) => rig.SheetUniverses[universe] >= 0
        ? LocateWords.Address(rig.SheetUniverses[universe], slot)
        : string.Create(CultureInfo.InvariantCulture, $"{rig.Space.Universes[universe].Label} slot {slot:000}");
}
