using System.Globalization;
using DmxProbe.Analysis.Findings;

namespace DmxProbe.Analysis.Diagnosis;

/// <summary>The answer in words.</summary>
public static class DiagnosisNarrator
{
    private static readonly (CauseInputs Input, string Words)[] Inputs =
    [
        (CauseInputs.Network, "a network capture"),
        (CauseInputs.Line, "a recording of the line's edges"),
        (CauseInputs.Serial, "a serial interface on the line"),
        (CauseInputs.Sheet, "the patch sheet (--patch)"),
        (CauseInputs.BadUnits, "which units are bad (--bad)"),
        (CauseInputs.Light, "what the light does (--trace)"),
        (CauseInputs.Rdm, "RDM replies"),
        (CauseInputs.TwoTaps, "two places captured at the same time"),
        (CauseInputs.Person, "somebody to look"),
        (CauseInputs.Longer, "a longer capture (3 s or more)"),
        (CauseInputs.MoreLight, "more of the light than was measured (a longer or nearer --trace)"),
        (CauseInputs.Levels, "the levels of the unit's universe (a network capture, or a line with --map)"),
    ];

    /// <summary>Inputs in words: <c>a network capture and the patch sheet (--patch)</c>.</summary>
    public static string Words(CauseInputs inputs)
    {
        string[] words = [.. Inputs.Where(known => inputs.HasFlag(known.Input)).Select(known => known.Words)];
        return words.Length switch
        {
            0 => "nothing more",
            1 => words[0],
            _ => string.Join(", ", words[..^1]) + " and " + words[^1],
        };
    }

    /// <summary>The answer in one sentence, with what keeps it from being the whole. Names as they came.</summary>
    internal static string Sentence(DiagnosisCase it, CauseReport? first, IReadOnlyList<CauseReport> ranked, IReadOnlyList<ForkAnswer> forks, IReadOnlyList<UnitGroup> groups, int excluded, int open)
    {
        bool isCutFirst = first?.Cause.Card.Group == CauseGroup.Capture;
        string answer = it.IsTooShort
            ? Say($"Too short to tell: {it.NetworkLength.TotalSeconds:0.###} s of network, and a universe that holds still may come once a second only; capture {Sufficiency.LeastSeconds:0} s or more.{(first is not null && (isCutFirst || first.State == CauseState.Proven) ? $" {Capital(first, it)}" : "")}")
            : Answer(it, first, ranked, forks, groups, excluded, open);
        string[] cut = [.. it.Survey.Inputs.Where(input => input.Cut is not null).Select(input => input.Name)];
        return cut.Length == 0 || (isCutFirst && cut.All(name => answer.Contains(name, StringComparison.Ordinal))) ? answer
            : $"{answer.TrimEnd('.')}. {string.Join(", ", cut)} {(cut.Length == 1 ? "ends" : "end")} early: this is said of what was read.";
    }

    private static string Answer(DiagnosisCase it, CauseReport? first, IReadOnlyList<CauseReport> ranked, IReadOnlyList<ForkAnswer> forks, IReadOnlyList<UnitGroup> groups, int excluded, int open)
    {
        if (it.Bad.Count == 0)
        {
            int others = ranked.Count(report => report.Severity != Severity.Info && report.ReasonOf.Length == 0) - 1;
            return first is null
                ? Say($"No fault found in {Seconds(it)}{Had(it.Inputs)}: {excluded} causes are excluded, {open} cannot be with these inputs.")
                : Capital(first, it) + (others > 0 ? Say($" Below: {others} more.") : "");
        }

        if (first is { IsAskedFirst: true })
        {
            return Capital(first, it);
        }

        string who = it.Bad.Count == 1 ? it.Bad[0] : Say($"{it.Bad.Count} units");
        if (first is { State: CauseState.Proven or CauseState.Likely, Severity: Severity.Fault, TouchesBad: true })
        {
            string quoted = $"unit '{who}': ";
            string text = first.Text.StartsWith(quoted, StringComparison.Ordinal) ? first.Text[quoted.Length..] : first.Text;
            return text.StartsWith(who, StringComparison.Ordinal) ? Likely(first) + text : $"{who}: {Likely(first)}{text}";
        }

        // A fault of which nobody knows whether it touches them is still the best thing to act on.
        if (first is { State: CauseState.Proven, Severity: Severity.Fault })
        {
            return $"{who}: the one fault to act on may or may not be on {(it.Bad.Count == 1 ? "its" : "their")} way, which these inputs do not say: {first.Text}";
        }

        if (it.Located.FirstOrDefault(located => located.Answer is { AsTheSheetSays: true, Claim: Locate.LocateClaim.Found or Locate.LocateClaim.Class }) is { } right)
        {
            return $"{right.Answer.Sentence.TrimEnd('.')}, and no other fault of it was found: {excluded} causes are excluded, {open} cannot be with these inputs.";
        }

        // The light leaves some places open, and the sheet's is none of them.
        if (first is { State: CauseState.Possible, Severity: Severity.Fault, TouchesBad: true, Cause: LocateCause } &&
            it.Located.FirstOrDefault(located => located.Answer.Claim == Locate.LocateClaim.OneOf) is { } few)
        {
            return few.Answer.Sentence + " None of them is what the sheet says.";
        }

        // Light that was measured and does not suffice is said, with what it lacks.
        string light = it.Located.Count > 0 ? $" {it.Located[0].Answer.Sentence} {LocatedStories.Likeliest(it.Located[0], it)}".TrimEnd() : "";
        if (groups.Count > 0)
        {
            return $"{who} are bad, and they are {groups[0].Text}: look there first.";
        }

        return forks.Count switch
        {
            0 => $"{who}: these inputs do not say why.",
            _ when forks[0].Fork == FirstFork.Carries => $"{who}: no fault found in what is sent: the wire carries it, so look behind the wire: address, mode, state of the unit, cable.{light}",
            _ => forks[0].Text + light,
        };
    }

    private static string Likely(CauseReport report) => report.State == CauseState.Likely ? "most likely, " : "";

    private static string Seconds(DiagnosisCase it) => it.Survey.Inputs.Count == 1 ? Say($"{it.Length.TotalSeconds:0.#} s of ") : "";

    // Names keep their letters: "sACN 2", "tonight.pcapng", a unit "mh 1".
    private static string Capital(CauseReport report, DiagnosisCase it) =>
        it.Survey.Inputs.Select(input => input.Name).Concat(report.Units).Any(name => name.Length > 0 && report.Text.StartsWith(name, StringComparison.Ordinal)) ? report.Text : Capital(report.Text);

    private static string Capital(string text) => text.Length > 1 && char.IsLower(text[0]) && char.IsUpper(text[1]) ? text : text.Length > 0 ? char.ToUpperInvariant(text[0]) + text[1..] : text;

    private static string Had(CauseInputs inputs) => Words(inputs & ~(CauseInputs.Person | CauseInputs.Sheet | CauseInputs.BadUnits | CauseInputs.Levels));

    private static string Say(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
