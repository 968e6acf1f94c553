using DmxProbe.Analysis.Findings;

namespace DmxProbe.Analysis.Diagnosis;

/// <summary>Holds a case against every cause and puts the answer together. Pure: reads no clock, does no input or output.</summary>
public static class Diagnoser
{
    // Log odds. How well a state speaks for itself, how often a cause is met, and how well the units it touches match the
    // bad ones. Chosen on simulated rigs; the table of docs/causes.md is made with them on other seeds.
    private const double BadTouched = 0.9;
    private const double BadNotTouched = 0.02;
    private const double GoodTouched = 0.6;
    private const double SaidBonus = 1.4;

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

        IReadOnlyList<CauseReport> ranked = [.. found.Select(report => report with { Score = Score(report, it, symptom) }).OrderByDescending(report => report.Score)];
        IReadOnlyList<ForkAnswer> forks = [.. it.Bad.Select(it.Unit).OfType<Units.UnitActivity>().Select(unit => ForkAnswer.Of(unit, it))];
        IReadOnlyList<UnitGroup> groups = it.Sheet is null ? [] : UnitGrouping.Of(it.Sheet, it.Bad);
        CauseReport[] cannot = [.. open.OrderByDescending(report => Weight(report.Cause, symptom))];
        IReadOnlyList<DiagnosisQuestion> questions = Questions(cannot);
        NextCheck? next = groups.Select(group => group.Check).FirstOrDefault(check => check is not null)
            ?? (ranked.Count > 0 ? (ranked[0].State == CauseState.Proven ? null : ranked[0].WhatToCheck) : null)
            ?? (it.Bad.Count > 0 && ranked.All(report => report.State != CauseState.Proven) ? Cheapest(cannot, questions) : null);
        return new DiagnosisResult
        {
            Inputs = it.Inputs,
            Sentence = DiagnosisNarrator.Sentence(it, ranked, forks, groups),
            Forks = forks,
            Groups = groups,
            Symptom = symptom,
            Ranked = ranked,
            Excluded = excluded,
            CannotTell = cannot,
            Questions = questions,
            Next = next,
            Cautions = [.. (ranked.Count > 0 ? ranked[0].Cause.Card.Cautions : []).Concat(next is { Ladder: true } ? [Caution.Unplugging, Caution.Ladder] : Array.Empty<string>()).Distinct()],
        };
    }

    private static void Judge(Cause cause, DiagnosisCase it, List<CauseReport> found, List<CauseReport> excluded, List<CauseReport> open)
    {
        if (!cause.CanJudge(it.Inputs))
        {
            CauseInputs missing = cause.Card.Needs[0] & ~it.Inputs;
            open.Add(new CauseReport { Cause = cause, State = CauseState.CannotTell, Text = $"{cause.Name}: needs {DiagnosisNarrator.Words(missing)}.", Missing = missing });
            return;
        }

        CauseReport[] reports = [.. cause.Find(it)];
        if (reports.Length > 0)
        {
            found.AddRange(reports);
            return;
        }

        if (cause.Exclusion(it) is string why)
        {
            excluded.Add(new CauseReport { Cause = cause, State = CauseState.Excluded, Severity = Severity.Info, Text = why });
            return;
        }

        open.Add(new CauseReport { Cause = cause, State = CauseState.CannotTell, Severity = Severity.Info, Text = $"{cause.Name}: not seen, which does not exclude it; needs {DiagnosisNarrator.Words(cause.Card.Missing)}.", Missing = cause.Card.Missing });
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
        score += Weight(report.Cause, symptom) * 0.5;
        if (it.Bad.Count == 0 || it.Sheet is null)
        {
            return score;
        }

        HashSet<string> touched = Touched(report, it);
        if (touched.Count == 0)
        {
            return score - 1;
        }

        int bad = it.Bad.Count(touched.Contains);
        int good = touched.Count(unit => !it.IsBad(unit));
        return score + (bad * Math.Log(BadTouched / 0.3)) + ((it.Bad.Count - bad) * Math.Log(BadNotTouched / 0.3)) + (Math.Min(good, 6) * Math.Log(GoodTouched));
    }

    private static double Weight(Cause cause, Symptom? symptom)
    {
        double weight = (int)cause.Card.Frequency;
        int place = symptom is null ? -1 : symptom.Causes.ToList().IndexOf(cause.Id);
        return place < 0 ? weight : weight + (2 * SaidBonus) - (place * 0.1);
    }

    private static List<DiagnosisQuestion> Questions(IReadOnlyList<CauseReport> open) =>
    [
        .. open.Where(report => report.Missing.HasFlag(CauseInputs.Person))
            .GroupBy(report => report.WhatToCheck)
            .OrderBy(same => same.Key.Ladder)
            .ThenBy(same => same.Key.Seconds)
            .Select(same => new DiagnosisQuestion(same.Key, [.. same.Select(report => report.Cause.Id).Distinct()])),
    ];

    private static NextCheck? Cheapest(CauseReport[] open, IReadOnlyList<DiagnosisQuestion> questions) =>
        open.Where(report => report.Cause.Card.Frequency == CauseFrequency.Common).Select(report => report.WhatToCheck).OrderBy(check => check.Ladder).ThenBy(check => check.Seconds).FirstOrDefault()
        ?? questions.Select(question => question.Check).FirstOrDefault();
}
