using System.Globalization;
using DmxProbe.Analysis.Locate;
using DmxProbe.Analysis.Locate.Ask;
using DmxProbe.Fixtures.Light;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Rigs;

namespace DmxProbe.Benchmarks.Ask;

/// <summary>
/// Guided questions on whole rigs, where only what the sheet and the unit's own dangers leave may be raised: how often they
/// end with a claim, by the type of the unit asked about.
/// </summary>
/// <param name="Name">Its name, as --cells takes it.</param>
/// <param name="IsLit">Whether the capture ends on the latest look in which the unit should be lit; else wherever it ends.</param>
/// <param name="Notes">How many looks of the show were noted before the questions.</param>
public sealed record SheetRow(string Name, bool IsLit, int Notes)
{
    private const double EyeError = 0.05;
    private const double LitFrom = 0.03;

    // Seconds from the look to its note.
    private const double Reaction = 0.6;
    private static readonly RigOptions Options = new() { Seconds = 30 };

    /// <summary>All of them.</summary>
    public static IReadOnlyList<SheetRow> All { get; } = [new("sheet-ranges-5", false, 0), new("sheet-lit-ranges-5", true, 0), new("sheet-noted-ranges-5", true, 4)];

    /// <summary>Runs the rigs; the rows of the table, one for each type.</summary>
    public IEnumerable<string> Run(int rigs, long seed, int threads)
    {
        (string Type, AskTrial Trial, int Endangered)[] all = new (string, AskTrial, int)[rigs];
        Parallel.For(0, rigs, new ParallelOptions { MaxDegreeOfParallelism = threads }, i => all[i] = Of(seed + i));
        foreach (IGrouping<string, (string Type, AskTrial Trial, int Endangered)> type in all.GroupBy(each => each.Type).OrderBy(type => type.Key, StringComparer.Ordinal))
        {
            double count = type.Count();
            yield return string.Create(
                CultureInfo.InvariantCulture,
                $"| {type.Key} | {count} | {100 * type.Count(each => each.Trial.IsRight) / count:0.0} / {100 * type.Count(each => each.Trial.IsWrong) / count:0.00} / {100 * type.Count(each => each.Trial is { IsRight: false, IsWrong: false }) / count:0.0} | {type.Average(each => each.Trial.Looks):0.0} | {type.Sum(each => each.Endangered)} of {type.Sum(each => each.Trial.Looks)} |");
        }
    }

    private (string, AskTrial, int) Of(long seed)
    {
        Rig drawn = Rig.Draw(Options, seed);
        LocateQuestion about = drawn.Question;
        AskSpace space = new([.. about.Histories.Select(history => history.Universe)], about.Modes);
        AskUnit[] units = [new AskUnit(drawn.Unit.Name, drawn.Unit.Universe, drawn.Unit.Address, drawn.Unit.Mode), .. about.Others.Select(other => new AskUnit(other.Name, other.History, other.Address, other.Mode))];
        byte[][] held = Held(about, drawn.Unit, space);
        AskRig rig = new(space, drawn.Unit.Name, units, [1, 2, 3], held);
        double[] prior = AskPrior.Of(space, [.. about.Prior.Select(each => (new AskPlace(each.Hypothesis.History, each.Hypothesis.Address, each.Hypothesis.Mode), each.Weight))]);
        AskPlace truth = new(drawn.Truth!.Value.History, drawn.Truth.Value.Address, drawn.Truth.Value.Mode);
        AskSafety safety = new(rig);
        DangerCount planner = new(new RangesAndLooks(rig, new RangePlanner(rig), new ExistingLookPlanner(rig, about.Histories, safety)), rig, truth);
        RigRandom random = new(unchecked((ulong)seed));
        AskTrial trial = AskTrial.Run(prior, safety, planner, space, truth, EyeError, random, Noted(about, space, truth, random));
        return (drawn.Unit.Mode.Name, trial, planner.Endangered);
    }

    /// <summary>Looks of the show, lit or dark, at moments evenly spread over it; where a strobe or a programme decides none is noted.</summary>
    private List<AskEvidence> Noted(LocateQuestion about, AskSpace space, AskPlace truth, RigRandom random)
    {
        List<AskEvidence> notes = [];
        for (int k = 1; k <= Notes; k++)
        {
            int sample = k * about.Histories[truth.Universe].Samples / (Notes + 1);
            LightOutput light = space.Light(truth.Address, truth.Mode, HistoryFrames.At(about.Histories[truth.Universe], [sample])[0]);
            if (light.Predictable)
            {
                Seen seen = light.Luminance > LitFrom != random.Chance(EyeError) ? Seen.Lit : Seen.Dark;
                Timestamp time = about.Histories[0].Start + Duration.FromSeconds(((double)sample / SlotHistory.RatePerSecond) + Reaction);
                notes.Add(LookEvidence.OfCapture(space, about.Histories, time, seen, ""));
            }
        }

        return notes;
    }

    /// <summary>What stands when the questions begin: the latest look of the show in which the unit should be lit, else the last.</summary>
    private byte[][] Held(LocateQuestion about, RigUnit unit, AskSpace space)
    {
        int last = about.Histories.Max(history => history.Samples) - 1;
        for (int sample = last; IsLit && sample > 0; sample -= SlotHistory.RatePerSecond / 2)
        {
            byte[][] levels = [.. about.Histories.Select(history => HistoryFrames.At(history, [sample])[0])];
            if (space.Light(unit.Address, 0, levels[unit.Universe]) is { Predictable: true, Luminance: > 0.1f })
            {
                return levels;
            }
        }

        return [.. about.Histories.Select(history => HistoryFrames.At(history, [last])[0])];
    }

    /// <summary>Counts the questions in which a raised slot is a dangerous one of the unit where it really is.</summary>
    private sealed class DangerCount(IAskPlanner planner, AskRig rig, AskPlace truth) : IAskPlanner
    {
        private IReadOnlyList<byte[]> _now = rig.Held;
        private readonly UnitDangers _dangers = new(rig.Space);

        public int Endangered { get; private set; }

        public AskQuestion? Next(AskPosterior posterior, AskSafety safety) => planner.Next(posterior, safety);

        public AskQuestion? Confirm(AskPosterior posterior, AskSafety safety, int place) => planner.Confirm(posterior, safety, place);

        public void Asked(AskQuestion question)
        {
            int footprint = rig.Space.Modes[truth.Mode].Footprint;
            Endangered += question.Raised.Any(slot => slot.Universe == truth.Universe && slot.Slot >= truth.Address && slot.Slot < truth.Address + footprint &&
                slot.Level != _now[slot.Universe][slot.Slot - 1] && _dangers.At(truth.Mode, slot.Slot - truth.Address + 1, slot.Level)) ? 1 : 0;
            _now = question.Levels;
            planner.Asked(question);
        }
    }
}
