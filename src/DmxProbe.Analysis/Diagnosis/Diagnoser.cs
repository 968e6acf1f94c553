using System.Globalization;
using DmxProbe.Analysis.Diagnosis.Causes.Network;
using DmxProbe.Analysis.Diagnosis.Units;
using DmxProbe.Analysis.Findings;
using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Analysis.Diagnosis;

/// <summary>Holds a case against every cause and puts the answer together. Pure: reads no clock, does no input or output.</summary>
public static class Diagnoser
{
    // Log odds. How well a state speaks for itself, how often a cause is met, and how well the units it touches match the
    // bad ones. Chosen on simulated rigs; the table in docs/causes.md is made with them on other seeds.
    private const double BadTouched = 0.9;
    private const double BadNotTouched = 0.02;
    private const double Base = 0.3;
    private const double GoodTouched = 0.6;
    private const int MostGood = 6;
    private const double Untouched = 1;
    private const double UntouchedUnsent = 4;
    private const double Explained = 6;
    private const double SaidBonus = 2.8;
    private const int Look = 30;
    private const int Minute = 60;

    private const string OnceSafe = "Only once it is safe, from what was captured: ";

    // Where something can hurt nothing is tried at the unit.
    private static readonly NextCheck Danger = new("Look from a safe distance; touch, raise and switch on nothing.", 15) { Cautions = [Caution.Mains] };

    /// <summary>Diagnoses a case.</summary>
    public static DiagnosisResult Run(DiagnosisCase it) => Run(it, AllCauses.List);

    /// <summary>Diagnoses a case against some causes.</summary>
    public static DiagnosisResult Run(DiagnosisCase it, IReadOnlyList<Cause> causes)
    {
        ArgumentNullException.ThrowIfNull(it);
        ArgumentNullException.ThrowIfNull(causes);
        Symptom? symptom = it.Said.Length > 0 ? Symptoms.Find(it.Said) : null;
        List<CauseReport> found = [];
        List<CauseReport> excluded = [];
        List<CauseReport> open = [];
        foreach (Cause cause in causes)
        {
            Judge(cause, it, found, excluded, open);
        }

        CauseReport[] ranked =
        [
            .. WithReasons(
            [
                .. found.Select(report => report with { FollowsFrom = Explanation(report, found, it) })
                    .Select(report => report with { Score = Score(report, it, symptom) - (report.FollowsFrom.Length > 0 ? Explained : 0), TouchesBad = TouchesBad(report, it) })
                    .OrderByDescending(report => report.IsAskedFirst).ThenByDescending(report => report.Score),
            ]),
        ];
        excluded = [.. excluded.OrderByDescending(report => Weight(report.Cause, symptom))];
        ForkAnswer[] forks = [.. it.BadUnits.Select(unit => ForkAnswer.Of(unit, it))];
        IReadOnlyList<UnitGroup> groups = UnitGrouping.Of(it);
        CauseReport[] cannot = [.. open.OrderByDescending(report => Weight(report.Cause, symptom))];
        IReadOnlyList<DiagnosisQuestion> questions = Questions(cannot, symptom);
        CauseReport? first = First(ranked, it);
        bool isDanger = symptom is { Safety.Length: > 0 };
        NextCheck? next = isDanger ? Danger : Next(it, first, forks, groups, cannot, symptom);
        string sentence = DiagnosisNarrator.Sentence(it, first, ranked, forks, groups, excluded.Count, cannot.Length);
        return new DiagnosisResult
        {
            Inputs = it.Inputs,
            Sentence = isDanger ? $"{symptom!.Safety} {OnceSafe}{sentence}" : sentence,
            First = first,
            Forks = forks,
            Groups = groups,
            Symptom = symptom,
            Ranked = ranked,
            Excluded = excluded,
            CannotTell = cannot,
            Questions = isDanger ? [.. questions.Where(question => question.FitsWhatWasSaid)] : questions,
            Next = next,
            Cautions = [.. (isDanger ? [Caution.Mains] : Array.Empty<string>()).Concat(first?.WhatToMind ?? []).Concat(next?.Cautions ?? []).Concat(next is { Ladder: true } ? [Caution.Unplugging, Caution.Ladder] : Array.Empty<string>()).Distinct()],
        };
    }

    // Two senders at one priority, and one of them never moves: one thing to tell, with its likely reason.
    private static IEnumerable<CauseReport> WithReasons(IReadOnlyList<CauseReport> ranked)
    {
        foreach (CauseReport report in ranked)
        {
            CauseReport? reason = report.Universe is { } universe
                ? ranked.FirstOrDefault(other => other.Universe == universe && other.Cause.Card.ReasonOf.Contains(report.Cause.Id)) : null;
            CauseReport? told = report.Cause.Card.ReasonOf.Count == 0 ? null
                : ranked.FirstOrDefault(other => other.Universe == report.Universe && report.Cause.Card.ReasonOf.Contains(other.Cause.Id));
            yield return report with
            {
                Reason = reason,
                ReasonOf = told?.Cause.Id ?? "",
                Action = reason?.WhatToDo ?? report.Action,
            };
        }
    }

    private static void Judge(Cause cause, DiagnosisCase it, List<CauseReport> found, List<CauseReport> excluded, List<CauseReport> open)
    {
        if (!cause.CanJudge(it.Inputs))
        {
            // What the capture itself may have wrong is no cause in the rig: where it cannot be, it is not told.
            if (cause.Card.Group == CauseGroup.Capture)
            {
                return;
            }

            CauseInputs missing = cause.Card.Needs.Select(needs => needs & ~it.Inputs).MinBy(needs => System.Numerics.BitOperations.PopCount((uint)needs));
            open.Add(Open(cause, $"{cause.Name}: needs {DiagnosisNarrator.Words(missing)}.", missing));
            return;
        }

        if (Sufficiency.NeedsLonger(cause, it))
        {
            open.Add(Open(cause, Sufficiency.TooShort(cause, it), CauseInputs.Longer));
            return;
        }

        CauseReport[] reports = [.. cause.Find(it).Select(report => it.Survey.Inputs.Count > 1 ? WithoutRecords(report) : report)];
        if (reports.Length > 0)
        {
            found.AddRange(reports);
        }
        else if (cause.Exclusion(it) is string why)
        {
            if (Sufficiency.Lacks(cause, it) is (CauseInputs lacking, string text))
            {
                open.Add(Open(cause, text, lacking));
                return;
            }

            excluded.Add(new CauseReport { Cause = cause, State = CauseState.Excluded, Severity = Severity.Info, Text = why });
        }
        else
        {
            // A light was measured, and does not settle it.
            CauseInputs missing = cause.Card.Missing == CauseInputs.Light && it.Located.Any(located => !located.Answer.IsClaim) ? CauseInputs.MoreLight : cause.Card.Missing;
            open.Add(Open(cause, $"{cause.Name}: not seen, which does not exclude it; {DiagnosisNarrator.Words(missing)} would tell.", missing));
        }
    }

    // A record counted over several inputs merged is found under that number in none of them.
    private static CauseReport WithoutRecords(CauseReport report) =>
        report with { Evidence = [.. report.Evidence.Select(evidence => evidence with { FirstRecord = 0 })] };

    private static CauseReport Open(Cause cause, string text, CauseInputs missing) =>
        new() { Cause = cause, State = CauseState.CannotTell, Severity = Severity.Info, Text = text, Missing = missing };

    // The cause to act on: a fault or warning, and with bad units one that touches them or may touch them. What the capture
    // itself lost is no cause in the rig; it is told beside it.
    private static CauseReport? First(CauseReport[] ranked, DiagnosisCase it)
    {
        CauseReport[] able = [.. ranked.Where(report => report.Severity != Severity.Info && report.TouchesBad != false && report.ReasonOf.Length == 0)];
        return able.FirstOrDefault(report => report.Cause.Card.Group != CauseGroup.Capture) ?? (it.Bad.Count == 0 ? able.FirstOrDefault() : null);
    }

    // Whether a report touches a bad unit; null where it does not say which units it touches.
    private static bool? TouchesBad(CauseReport report, DiagnosisCase it)
    {
        if (it.Bad.Count == 0 || it.Sheet is null)
        {
            return null;
        }

        HashSet<string> touched = Touched(report, it);
        return touched.Count == 0 ? null : it.Bad.Any(touched.Contains);
    }

    private static NextCheck? Next(DiagnosisCase it, CauseReport? first, ForkAnswer[] forks, IReadOnlyList<UnitGroup> groups, CauseReport[] cannot, Symptom? symptom)
    {
        // With bad units a mere warning that may not touch them is not what to check first.
        if (first is { State: CauseState.Proven or CauseState.Likely } && (it.Bad.Count == 0 || first.Severity == Severity.Fault || first.TouchesBad == true))
        {
            return first.WhatToCheck;
        }

        // Nothing was seen yet that a check at the rig could rest on.
        if (it.IsTooShort)
        {
            return new NextCheck(string.Create(CultureInfo.InvariantCulture, $"Capture again, for {Sufficiency.LeastSeconds:0} s or more."), Look);
        }

        if (it.BadUnits.FirstOrDefault(unit => unit.Universe is null && it.UnclearUniverses.Contains(unit.Watched.Unit.Universe)) is { } unclear)
        {
            return new NextCheck(string.Create(CultureInfo.InvariantCulture, $"Run it again and say which universe of the wire is universe {unclear.Watched.Unit.Universe} of the sheet, as in --map {unclear.Watched.Unit.Universe}=artnet:0 (below: 'taken as' lists which it may be)."), 10);
        }

        if (it.Located.FirstOrDefault(located => located.Answer.NextStep.Length > 0) is { } located)
        {
            return new NextCheck(located.Answer.NextStep, Look) { Cautions = located.Answer.Cautions };
        }

        if (groups.Select(group => group.Check).FirstOrDefault(check => check is not null) is { } shared)
        {
            return shared;
        }

        if (first is not null)
        {
            return first.WhatToCheck;
        }

        // It stands still, and nothing says whether that is meant.
        if (forks.Length > 0 && forks[0].Fork == FirstFork.StandsStill)
        {
            return new NextCheck($"Work {forks[0].Unit} at the controller, one fader after the other, while it is captured again: a slot that does not move is held, parked or not patched there.", Minute) { Cautions = [Caution.Raising] };
        }

        // Nothing seen, and the wire carries it: what is left is at the unit and the cable. One look parts dead from misled, and
        // light parts address, mode and a programme of its own.
        if (forks.Length > 0 && forks[0].Fork == FirstFork.Carries && it.Located.Count == 0)
        {
            return Split(it.BadUnits.First());
        }

        return forks.Length == 0 && symptom is null
            ? null
            : cannot.Where(report => report.Cause.Card.Frequency == CauseFrequency.Common && report.Cause.Card.Group != CauseGroup.Capture)
                .OrderByDescending(report => symptom?.Causes.Contains(report.Cause.Id) ?? false)
                .ThenBy(report => report.Cause.Card.Check.Ladder)
                .ThenBy(report => report.Cause.Card.Check.Seconds)
                .Select(report => report.Cause.Card.Check with { Cautions = report.Cause.Card.Cautions })
                .FirstOrDefault();
    }

    // What can hurt or is not understood is never raised to see what happens.
    private static NextCheck Split(UnitActivity unit)
    {
        bool raise = unit.Watched.Mode is { } mode && mode.Slots.Any(slot => slot.Role == SlotRole.Intensity) && !mode.Slots.Any(slot => slot.Role is SlotRole.Hazard or SlotRole.Unknown);
        string name = unit.Watched.Unit.Unit;
        string film = $"film it for a minute while it is worked, make a trace (dmxprobe trace from-video CLIP -o light.csv) and give that with --trace: it tells address, mode and a programme of its own apart. Without a camera: dmxprobe locate --ask.";
        return new NextCheck(
            raise
                ? $"Raise dimmer and colours of {name} alone at the controller: does it do anything? Nothing: look at its display and signal light (power, cable, input). Something else than asked: {film}"
                : $"Look at the display and the signal light of {name}: dark means power, no signal means cable or input. If both are well, {film}",
            Look)
        {
            Cautions = raise ? [Caution.Raising] : [],
        };
    }

    // The cause that brings this one about at the same place; empty when none does.
    private static string Explanation(CauseReport report, List<CauseReport> found, DiagnosisCase it)
    {
        HashSet<string>? touched = null;
        foreach (CauseReport other in found)
        {
            if (other.State is CauseState.Proven or CauseState.Likely && other.Cause.Card.Explains.Contains(report.Cause.Id))
            {
                HashSet<string> others = Touched(other, it);
                touched ??= Touched(report, it);
                if (touched.Count == 0 || others.Count == 0 || touched.Overlaps(others))
                {
                    return other.Cause.Id;
                }
            }
        }

        return "";
    }

    // The units a report touches: those it names, or all on its universe; none when it does not say.
    private static HashSet<string> Touched(CauseReport report, DiagnosisCase it) => new(
        report.Units.Count > 0 ? report.Units : report.Universe is { } universe ? it.UnitsOn(universe).Select(unit => unit.Watched.Unit.Unit) : [],
        StringComparer.OrdinalIgnoreCase);

    private static double Score(CauseReport report, DiagnosisCase it, Symptom? symptom)
    {
        double score = report.State switch
        {
            CauseState.Proven => 3,
            CauseState.Likely => 1.5,
            _ => 0,
        };
        score += report.Severity switch
        {
            Severity.Fault => 3,
            Severity.Warning => 1,
            _ => -2,
        };
        score += report.Lean + (Weight(report.Cause, symptom) * 0.5);
        if (it.Bad.Count == 0 || it.Sheet is null)
        {
            return score;
        }

        HashSet<string> touched = Touched(report, it);
        if (touched.Count == 0)
        {
            // Nobody sends what the bad units read: a fault of which nobody knows whether it is on their way stands behind that.
            return score - (it.BadUnits.Any(unit => UniverseNotSent.IsAbsent(it, unit.Watched.Unit.Universe)) ? UntouchedUnsent : Untouched);
        }

        // Each bad unit that it explains or leaves speaks; each good one that it should have spoilt speaks against it, where
        // its own evidence does not name the units.
        int bad = it.Bad.Count(touched.Contains);
        int good = touched.Count(unit => !it.IsBad(unit));
        return score + (bad * Math.Log(BadTouched / Base)) + ((it.Bad.Count - bad) * Math.Log(BadNotTouched / Base)) + (Math.Min(good, MostGood) * Math.Log(GoodTouched));
    }

    private static double Weight(Cause cause, Symptom? symptom)
    {
        double weight = (int)cause.Card.Frequency;
        int place = symptom is null ? -1 : symptom.Causes.ToList().IndexOf(cause.Id);
        return place < 0 ? weight : weight + SaidBonus - (place * 0.1);
    }

    // Cheapest first, without a ladder first; those that fit what was said before all others.
    private static List<DiagnosisQuestion> Questions(IReadOnlyList<CauseReport> open, Symptom? symptom) =>
    [
        .. open.Where(report => report.Cause is PersonCause)
            .GroupBy(report => report.WhatToCheck)
            .OrderByDescending(same => symptom is not null && same.Any(report => symptom.Causes.Contains(report.Cause.Id)))
            .ThenBy(same => same.Key.Ladder)
            .ThenBy(same => same.Key.Seconds)
            .ThenByDescending(same => same.Max(report => report.Cause.Card.Frequency))
            .Select(same => new DiagnosisQuestion(same.Key, [.. same.Select(report => report.Cause.Id).Distinct()], symptom is not null && same.Any(report => symptom.Causes.Contains(report.Cause.Id)))),
    ];
}
