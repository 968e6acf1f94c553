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
        (CauseInputs.TwoTaps, "network and line captured at the same time"),
        (CauseInputs.Person, "somebody to look"),
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

    /// <summary>The answer in one sentence. Names as they came.</summary>
    internal static string Sentence(DiagnosisCase it, IReadOnlyList<CauseReport> ranked, IReadOnlyList<ForkAnswer> forks, IReadOnlyList<UnitGroup> groups)
    {
        CauseReport? first = ranked.FirstOrDefault(report => report.Severity != Severity.Info);
        if (it.Bad.Count == 0)
        {
            return first is null
                ? Say($"No fault found in {it.Length.TotalSeconds:0.#} s of {Had(it.Inputs)}.")
                : first.Text;
        }

        string who = it.Bad.Count == 1 ? it.Bad[0] : Say($"{it.Bad.Count} units");
        if (first is not null && first.State is CauseState.Proven or CauseState.Likely && first.Severity == Severity.Fault && Touches(first, it))
        {
            return $"{who}: {(first.State == CauseState.Likely ? "most likely, " : "")}{Lower(first.Text)}";
        }

        if (groups.Count > 0)
        {
            return $"The {who} are {groups[0].Text}: look there first.";
        }

        return forks.Count > 0 ? forks[0].Text : $"{who}: these inputs do not say why.";
    }

    private static bool Touches(CauseReport report, DiagnosisCase it) =>
        report.Units.Any(it.IsBad) || (report.Universe is { } universe && it.UnitsOn(universe).Any(unit => it.IsBad(unit.Watched.Unit.Unit)));

    private static string Had(CauseInputs inputs) => Words(inputs & ~(CauseInputs.Person | CauseInputs.Sheet | CauseInputs.BadUnits));

    // Names keep their capitals: only a plain word at the start is made small.
    private static string Lower(string text) => text.Length > 1 && char.IsUpper(text[0]) && char.IsLower(text[1]) && text.Split(' ')[0] is "The" or "Two" or "A" or "An" or "Nobody" or "Several" or "One"
        ? char.ToLowerInvariant(text[0]) + text[1..]
        : text;

    private static string Say(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
