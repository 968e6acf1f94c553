using System.Globalization;
using DmxProbe.Analysis.Locate;
using DmxProbe.Analysis.Locate.Ask;
using DmxProbe.Testing.Rigs;

namespace DmxProbe.Benchmarks.Ask;

/// <summary>What five taps add to a trace of 15 s, and what they are worth alone.</summary>
/// <param name="Name">Its name, as --cells takes it.</param>
/// <param name="Options">Its rigs: 75 s of show, of which the trace sees the first 15.</param>
public sealed record TapRow(string Name, RigOptions Options)
{
    private const int Most = 5;

    /// <summary>All rows.</summary>
    public static IReadOnlyList<TapRow> All { get; } =
    [
        new("taps-busy", new RigOptions { Seconds = 75, TraceSeconds = 15 }),
        new("taps-cued", new RigOptions { Seconds = 75, TraceSeconds = 15, Show = RigShowKind.Cued }),
    ];

    /// <summary>Runs the rigs; a row of the table.</summary>
    public string Run(int rigs, long seed, int threads)
    {
        (int Alone, int With, int Taps, bool Top)[] outcomes = new (int, int, int, bool)[rigs];
        Parallel.For(0, rigs, new ParallelOptions { MaxDegreeOfParallelism = threads }, i => outcomes[i] = Of(Rig.Draw(Options, seed + i), seed + i));
        string Shares(IEnumerable<int> each)
        {
            int[] all = [.. each];
            double count = all.Length;
            return string.Create(CultureInfo.InvariantCulture, $"{100 * all.Count(one => one > 0) / count:0.0} / {100 * all.Count(one => one < 0) / count:0.00} / {100 * all.Count(one => one == 0) / count:0.0}");
        }

        double top = 100.0 * outcomes.Count(outcome => outcome.Top) / rigs;
        return string.Create(
            CultureInfo.InvariantCulture,
            $"| {Name} | {rigs} | {Shares(outcomes.Select(each => each.Alone))} | {Shares(outcomes.Select(each => each.With))} | {Shares(outcomes.Select(each => each.Taps))} ({top:0.0}) |");
    }

    /// <summary>1 right, -1 wrong, 0 open.</summary>
    private static (int Alone, int With, int Taps, bool Top) Of(Rig rig, long seed)
    {
        LocateQuestion question = rig.Question;
        AskSpace space = new([.. question.Histories.Select(history => history.Universe)], question.Modes);
        double[] prior = AskPrior.Of(space, [.. question.Prior.Select(each => (new AskPlace(each.Hypothesis.History, each.Hypothesis.Address, each.Hypothesis.Mode), each.Weight))]);
        LocateResult alone = LocateInference.Run(question);
        IReadOnlyList<Protocols.Records.Timestamp> taps = SimulatedTaps.Of(rig, 15, 75, Most, new RigRandom((ulong)seed));
        if (taps.Count == 0)
        {
            return (Verdict(alone, rig.Truth!.Value), Verdict(alone, rig.Truth!.Value), 0, false);
        }

        Protocols.Records.Timestamp from = question.Histories[0].Start + Protocols.Records.Duration.FromSeconds(15);
        AskEvidence evidence = TapEvidence.Of(space, question.Histories, taps, from, null);
        AskJudge judge = new(question, space, prior);
        AskPosterior all = new(space, prior);
        all.Add(TraceEvidence.Of(space, question.Histories, alone));
        all.Add(evidence);
        AskPosterior only = new(space, prior);
        only.Add(evidence);
        LocateResult tapsOnly = new AskJudge(question with { Trace = null }, space, prior).Judge(only, -1);
        LocateResult with = judge.Judge(all, -1);
        return (Verdict(alone, rig.Truth!.Value), Verdict(with, rig.Truth!.Value), Verdict(tapsOnly, rig.Truth!.Value), tapsOnly.Best?.Hypothesis == rig.Truth);
    }

    private static int Verdict(LocateResult result, Hypothesis truth) => result.Claim is not (LocateClaim.Found or LocateClaim.Class) ? 0
        : result.ClassMembers.Any(member => member.Hypothesis == truth) ? 1 : -1;
}
