using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Diagnosis;
using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Locate;
using DmxProbe.Reporting.Text;

namespace DmxProbe.Reporting.Html;

/// <summary>The open faults of a report: units located, causes of the diagnosis, findings that no cause covers.</summary>
internal sealed class ReportFaults
{
    private const int MostUnits = 14;
    private const int MostEvidence = 3;
    private readonly ReportContent _content;
    private readonly string[] _answered;

    /// <summary>Takes what is in the report.</summary>
    /// <param name="content">The report.</param>
    /// <param name="answered">Sentences that the answer says: they are not said again.</param>
    public ReportFaults(ReportContent content, IEnumerable<string> answered)
    {
        _content = content;
        _answered = [.. answered];
        Causes =
        [
            .. (content.Diagnosis?.Result.Ranked ?? []).Where(cause => cause.Severity != Severity.Info && !(cause.Cause is LocateCause && content.Located.Count > 0)),
        ];
        HashSet<string> covered = [.. (content.Diagnosis?.Result.Ranked ?? []).SelectMany(cause => cause.Evidence.Select(evidence => evidence.Text).Append(cause.Text))];
        Findings = [.. content.Survey.Findings.Concat(content.MoreFindings).Where(finding => !covered.Contains(finding.Text)).OrderByDescending(finding => finding.Severity)];
    }

    /// <summary>Causes to be shown, the one to act on first.</summary>
    public IReadOnlyList<CauseReport> Causes { get; }

    /// <summary>Findings that no cause covers, worst first.</summary>
    public IReadOnlyList<Finding> Findings { get; }

    /// <summary>How many of a severity.</summary>
    public int Count(Severity severity) => Causes.Count(cause => cause.Severity == severity) + Findings.Count(finding => finding.Severity == severity);

    /// <summary>Writes them.</summary>
    public void Write(HtmlWriter html)
    {
        HtmlParts.Section(html, "faults", "Open faults");
        _content.Located.ToList().ForEach(located => Located(html, located));
        Causes.ToList().ForEach(cause => Cause(html, cause));
        List<Finding> open = [.. Findings.Where(finding => finding.Severity != Severity.Info)];
        open.ForEach(finding => Found(html, finding));
        if (open.Count + _content.Located.Count + Causes.Count == 0)
        {
            HtmlParts.Paragraph(html, "None.");
        }
    }

    private void Located(HtmlWriter html, ReportLocate located)
    {
        LocateAnswer answer = located.Answer;
        Begin(html, answer.IsClaim && !answer.AsTheSheetSays ? "fault" : "warning", located.Unit, "");
        Said(html, answer.Sentence);
        Position(html, [located.Unit]);
        HtmlParts.Paragraph(html, answer.Explanation.Length > 0 ? "Why: " + Figures.Ended(answer.Explanation) : "");
        Steps(html, answer.Action, answer.NextStep, answer.Cautions);
    }

    private void Cause(HtmlWriter html, CauseReport cause)
    {
        bool isElsewhere = cause.TouchesBad == false;
        Begin(html, cause.Severity == Severity.Fault ? "fault" : "warning", cause.Cause.Name + (cause.Subject.Length > 0 ? ": " + cause.Subject : ""), isElsewhere ? StateWord(cause.State) + ", elsewhere on the rig" : StateWord(cause.State));
        Said(html, cause.Text);
        Position(html, cause.Units.Count > 0 ? cause.Units : UnitsOn(cause.Universe));
        foreach (CauseEvidence evidence in cause.Evidence.Take(MostEvidence))
        {
            string limit = evidence.Limit.Length == 0 ? "" : $"limit: {evidence.Limit}{(evidence.LimitSource.Length > 0 ? $" ({evidence.LimitSource})" : "")}";
            string[] facts = [evidence.Text == cause.Text ? "" : evidence.Text.TrimEnd('.'), evidence.Measured.Length > 0 && !evidence.Text.Contains(evidence.Measured, StringComparison.Ordinal) ? "measured: " + evidence.Measured : "", limit, Seen(evidence)];
            HtmlParts.Paragraph(html, facts.Any(fact => fact.Length > 0) ? Figures.Ended(string.Join("; ", facts.Where(fact => fact.Length > 0))) : "");
        }

        // Nobody is to silence a sender for a unit that does not hear it.
        Steps(html, isElsewhere && _content.Diagnosis!.Bad.Count > 0 ? "" : cause.WhatToDo, cause.WhatToCheck.Text + (cause.WhatToCheck.Ladder ? " (with a ladder)" : ""), cause.WhatToMind);
    }

    private void Found(HtmlWriter html, Finding finding) => HtmlParts.Of(
        html, IsOneInput ? finding : finding with { FirstRecord = 0 }, _content.Clock, IsSaid(finding.Text), PositionText(UnitsOn(_content.Survey.Universes.Select(universe => (UniverseId?)universe.Id).FirstOrDefault(id => id!.Value.Label == finding.Subject))));

    private static void Begin(HtmlWriter html, string word, string subject, string state)
    {
        _ = html.Open("div", ("class", "finding " + word));
        _ = html.Open("h3");
        html.Line("span", word, ("class", "word"));
        _ = html.Text(" " + subject + (state.Length > 0 ? $" ({state})" : "")).Close();
    }

    // What the answer says already is not said again.
    private void Said(HtmlWriter html, string sentence) => HtmlParts.Paragraph(html, IsSaid(sentence) ? "" : Figures.Ended(sentence));

    // A record number is found again only where there is one file to look in.
    private bool IsOneInput => _content.Survey.Inputs.Count == 1;

    private bool IsSaid(string sentence) => _answered.Any(said => said.Contains(sentence.TrimEnd('.'), StringComparison.Ordinal));

    private static void Steps(HtmlWriter html, string action, string next, IReadOnlyList<string> cautions)
    {
        HtmlParts.Paragraph(html, action.Length > 0 ? "To do: " + Figures.Ended(action) : "");
        HtmlParts.Paragraph(html, next.Length > 0 ? "Next step: " + Figures.Ended(next) : "");
        foreach (string caution in cautions)
        {
            HtmlParts.Paragraph(html, "Mind: " + Figures.Ended(caution), "caution");
        }

        _ = html.Close();
        html.Break();
    }

    private void Position(HtmlWriter html, IReadOnlyList<string> units) => HtmlParts.Paragraph(html, PositionText(units));

    // Units that hang together are told together: people look for a position first.
    private string PositionText(IReadOnlyList<string> units)
    {
        if (units.Count == 0)
        {
            return "";
        }

        IEnumerable<string> places = units.Take(MostUnits)
            .Select(name => _content.Units.FirstOrDefault(unit => unit.Name == name) ?? new ReportUnit(name, "", null))
            .GroupBy(unit => unit.Position, unit => unit.Name)
            .Select(place => string.Join(", ", place) + (place.Key.Length > 0 ? $" ({place.Key})" : " (no position on the sheet)"));
        return $"Units touched: {string.Join("; ", places)}{(units.Count > MostUnits ? $"; and {Figures.Count(units.Count - MostUnits)} more" : "")}.";
    }

    private string[] UnitsOn(UniverseId? universe) => universe is null ? [] : [.. _content.Units.Where(unit => unit.Wire == universe).Select(unit => unit.Name)];

    private string Seen(CauseEvidence evidence)
    {
        string record = IsOneInput && evidence.FirstRecord > 0 ? "first in record " + Figures.Count(evidence.FirstRecord) : "";
        string when = (evidence.From, evidence.To) switch
        {
            ({ } from, { } to) when from != default && !WallClock.IsUndated(from) => $"from {_content.Clock.Time(from)} to {_content.Clock.Time(to)}",
            ({ } from, { } to) when from != default => $"from {Figures.Number(from.UnixNanoseconds / 1e9)} s to {Figures.Number(to.UnixNanoseconds / 1e9)} s of the recording",
            _ => "",
        };
        return string.Join(", ", new[] { when, record }.Where(part => part.Length > 0));
    }

    private static string StateWord(CauseState state) => state switch { CauseState.Proven => "proven", CauseState.Likely => "likely", _ => "possible" };
}
