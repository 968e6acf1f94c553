using DmxProbe.Analysis.Findings;
using DmxProbe.Reporting.Text;

namespace DmxProbe.Tui;

/// <summary>What was found, the worst first; the chosen one with its evidence and what to mind.</summary>
internal static class FindingsView
{
    /// <summary>The rows of the view.</summary>
    public static IReadOnlyList<ScreenRow> Rows(RigPicture picture, ScreenState state, WallClock clock, int width, int room)
    {
        IReadOnlyList<Finding> findings = picture.Survey.Findings;
        if (findings.Count == 0)
        {
            return [new ScreenRow(" Nothing was found up to now.")];
        }

        state.Finding = Math.Clamp(state.Finding, 0, findings.Count - 1);
        Finding about = findings[state.Finding];
        List<ScreenRow> evidence = Evidence(about, clock, width);
        int listed = Math.Clamp(room - evidence.Count - 1, Math.Min(3, Math.Max(1, room / 2)), Math.Max(1, room / 2));
        int first = Math.Clamp(state.Finding - (listed / 2), 0, Math.Max(0, findings.Count - listed));
        List<ScreenRow> rows = [];
        for (int index = first; index < Math.Min(findings.Count, first + listed); index++)
        {
            Finding finding = findings[index];
            bool chosen = index == state.Finding;
            // In a recording the star says that it is about the moment shown.
            char now = picture.IsReview && picture.IsNow(finding) ? '*' : ' ';
            rows.Add(new ScreenRow(
                RowTexts.Cut(width, $"{(chosen ? '>' : ' ')}{now}{Screen.Word(finding.Severity),-8} {About(finding)}{Printable.Text(finding.Text)}"),
                chosen ? Tint.Chosen : finding.Severity == Severity.Fault ? Tint.Fault : finding.Severity == Severity.Warning ? Tint.Warning : Tint.Plain)
            {
                Choice = index + 1,
            });
        }

        rows.Add(new ScreenRow(""));
        rows.AddRange(evidence);
        return rows;
    }

    // What to do and what to mind before the figures: whatever a small screen cuts, it is not that.
    private static List<ScreenRow> Evidence(Finding about, WallClock clock, int width)
    {
        List<ScreenRow> rows = [];
        Add("", about.Text);
        Add("next: ", about.Action);
        foreach (string caution in about.Cautions)
        {
            Add("mind: ", caution, Tint.Warning);
        }

        Add("measured: ", about.Measured);
        Add("limit: ", about.Limit);
        Add("source: ", about.LimitSource);
        Add("from ", RowTexts.Of($"{clock.Time(about.From)} to {clock.Time(about.To)}"));
        return rows;

        void Add(string head, string text, Tint tint = Tint.Plain)
        {
            if (text.Length > 0)
            {
                rows.AddRange(Wrapped.Rows(RowTexts.Of($"{head}{Printable.Text(text)}"), width, "   ", tint));
            }
        }
    }

    // Most sentences begin with what they are about.
    private static string About(Finding finding) =>
        finding.Text.StartsWith(finding.Subject, StringComparison.Ordinal) ? "" : RowTexts.Of($"{Printable.Text(finding.Subject)}: ");
}
