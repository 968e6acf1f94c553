using System.Globalization;
using DmxProbe.Analysis.Locate;
using DmxProbe.Analysis.Locate.Ask;
using DmxProbe.Testing.Rigs;

namespace DmxProbe.Benchmarks.Ask;

/// <summary>
/// Guided questions on whole rigs, where only what the sheet and the unit's own dangers leave may be raised: how often they
/// end with a claim, by the type of the unit asked about.
/// </summary>
public static class SheetRow
{
    /// <summary>Its name, as --cells takes it.</summary>
    public const string Name = "sheet-ranges-5";

    private const double EyeError = 0.05;
    private static readonly RigOptions Options = new() { Seconds = 30 };

    /// <summary>Runs the rigs; the rows of the table, one for each type.</summary>
    public static IEnumerable<string> Run(int rigs, long seed, int threads)
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

    private static (string, AskTrial, int) Of(long seed)
    {
        Rig drawn = Rig.Draw(Options, seed);
        LocateQuestion about = drawn.Question;
        AskSpace space = new([.. about.Histories.Select(history => history.Universe)], about.Modes);
        AskUnit[] units = [new AskUnit(drawn.Unit.Name, drawn.Unit.Universe, drawn.Unit.Address, drawn.Unit.Mode), .. about.Others.Select(other => new AskUnit(other.Name, other.History, other.Address, other.Mode))];
        byte[][] held = [.. about.Histories.Select(history => HistoryFrames.At(history, [history.Samples - 1])[0])];
        AskRig rig = new(space, drawn.Unit.Name, units, [1, 2, 3], held);
        double[] prior = AskPrior.Of(space, [.. about.Prior.Select(each => (new AskPlace(each.Hypothesis.History, each.Hypothesis.Address, each.Hypothesis.Mode), each.Weight))]);
        AskPlace truth = new(drawn.Truth!.Value.History, drawn.Truth.Value.Address, drawn.Truth.Value.Mode);
        AskSafety safety = new(rig);
        DangerCount planner = new(new RangesAndLooks(rig, new RangePlanner(rig), new ExistingLookPlanner(rig, about.Histories, safety)), rig, truth);
        AskTrial trial = AskTrial.Run(prior, safety, planner, space, truth, EyeError, new RigRandom(unchecked((ulong)seed)));
        return (drawn.Unit.Mode.Name, trial, planner.Endangered);
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
