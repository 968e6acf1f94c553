using DmxProbe.Analysis.Decoding.Line;
using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Locate;
using DmxProbe.Analysis.Timing;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Plots;
using DmxProbe.Reporting.Text;

namespace DmxProbe.Reporting.Html;

/// <summary>The hand-over report: the answer first, then what it rests on, for a reader who has not seen this tool.</summary>
public static class ReportPage
{
    private const int MostNotes = 40;

    /// <summary>Writes the page.</summary>
    /// <param name="output">Where to, as UTF-8; left open.</param>
    /// <param name="content">What is in it.</param>
    public static void Write(Stream output, ReportContent content)
    {
        ArgumentNullException.ThrowIfNull(content);
        HtmlShell.Write(output, content.Title, html => Body(html, content));
    }

    private static void Body(HtmlWriter html, ReportContent content)
    {
        Head(html, content);
        List<Finding> findings = [.. content.Survey.Findings.Concat(content.MoreFindings).OrderByDescending(finding => finding.Severity)];
        _ = html.Open("main", ("id", "main"));
        Answer(html, content, findings);
        OpenFaults(html, content, findings);
        HtmlParts.Section(html, "workarounds", "Work-arounds in force");
        HtmlParts.Sentences(html, content.Workarounds, "None was named to this report.");
        HtmlParts.Section(html, "not-tested", "What was not tested");
        HtmlParts.Sentences(html, content.NotTested, "Nothing is known to be left out.");
        _ = html.Open("div", ("id", "after"));
        Connected(html, content);
        HtmlParts.Section(html, "instrument", "Instrument and resolution");
        HtmlParts.Paragraph(html, $"{content.Instrument}. Each figure says where it was measured: network = arrival at the capture point; usb, uart = in the interface; edges = on the line itself.");
        ReportTables.Instrument(html, content);
        HtmlParts.Section(html, "limits", "Limits used");
        ReportTables.Limits(html, content.Timed);
        Results(html, content);
        Pictures(html, content);
        List<Finding> notes = [.. findings.Where(finding => finding.Severity == Severity.Info).Take(MostNotes)];
        if (notes.Count > 0)
        {
            HtmlParts.Section(html, "notes", "Notes");
            notes.ForEach(finding => HtmlParts.Of(html, finding, content.Clock));
        }

        HtmlParts.Section(html, "files", "Files");
        ReportTables.Files(html, content.Files);
        HtmlParts.Paragraph(html, "This page is made again by: " + content.Command);
        _ = html.Close().Close();
        HtmlParts.Foot(html, "Figures measured; limits from the sources named; not a certificate of conformity.");
    }

    private static void Head(HtmlWriter html, ReportContent content)
    {
        string covered = content.Survey.First is Timestamp first && content.Survey.Last is Timestamp last
            ? $"{content.Clock.Span(first, last)}, {Figures.Time(Figures.Between(first, last))}"
            : "no records";
        HtmlParts.Head(
            html,
            content.Title,
            string.Join("; ", new[] { content.Place, covered, content.By.Length > 0 ? "by " + content.By : "" }.Where(part => part.Length > 0)),
            [
                ("faults", "Open faults"), ("workarounds", "Work-arounds"), ("not-tested", "Not tested"), ("connected", "Connected"), ("instrument", "Instrument"),
                ("limits", "Limits"), ("results", "Results"), ("pictures", "Pictures"), ("files", "Files"),
            ]);
    }

    private static void Answer(HtmlWriter html, ReportContent content, List<Finding> findings)
    {
        int faults = findings.Count(finding => finding.Severity == Severity.Fault);
        int warnings = findings.Count(finding => finding.Severity == Severity.Warning);
        List<TimingMeasurement> outside = [.. content.Timed.SelectMany(input => input.Figures).Where(Outside)];
        bool isFaulty = faults > 0 || outside.Count > 0 || content.Located.Any(each => Claims(each.Answer) && !each.Answer.AsTheSheetSays);
        html.Line("h2", "The answer", ("id", "answer"));
        html.Break();
        _ = html.Open("div", ("class", "answer " + (isFaulty ? "fault" : warnings > 0 ? "warning" : "clean")));
        List<string> sentences = [.. content.Located.Select(each => each.Answer.Sentence), .. findings.Where(finding => finding.Severity == Severity.Fault).Take(3).Select(finding => finding.Text)];
        if (sentences.Count == 0)
        {
            sentences.Add(outside.Count > 0 ? $"{Figures.Count(outside.Count, "figure is", "figures are")} outside the limits."
                : warnings > 0 ? findings[0].Text
                : $"No fault found in {SurveyContents.Of(content.Survey)}.");
        }

        sentences.ForEach(sentence => HtmlParts.Paragraph(html, Figures.Ended(sentence)));
        HtmlParts.Paragraph(html, $"In all: {Figures.Count(faults, "fault")}, {Figures.Count(warnings, "warning")}; {Figures.Count(outside.Count, "timing figure")} outside its limits.");
        _ = html.Close();
        html.Break();
    }

    private static void OpenFaults(HtmlWriter html, ReportContent content, List<Finding> findings)
    {
        HtmlParts.Section(html, "faults", "Open faults");
        foreach (ReportLocate located in content.Located)
        {
            _ = html.Open("div", ("class", "finding " + (Claims(located.Answer) && !located.Answer.AsTheSheetSays ? "fault" : "warning")));
            html.Line("h3", located.Unit);
            HtmlParts.Paragraph(html, Figures.Ended(located.Answer.Sentence));
            HtmlParts.Paragraph(html, located.Answer.Explanation.Length > 0 ? "Why: " + Figures.Ended(located.Answer.Explanation) : "");
            HtmlParts.Paragraph(html, located.Answer.Action.Length > 0 ? "To do: " + Figures.Ended(located.Answer.Action) : "");
            HtmlParts.Paragraph(html, located.Answer.NextStep.Length > 0 ? "Next step: " + Figures.Ended(located.Answer.NextStep) : "");
            foreach (string caution in located.Answer.Cautions)
            {
                HtmlParts.Paragraph(html, "Mind: " + Figures.Ended(caution), "caution");
            }

            _ = html.Close();
            html.Break();
        }

        List<Finding> open = [.. findings.Where(finding => finding.Severity != Severity.Info)];
        open.ForEach(finding => HtmlParts.Of(html, finding, content.Clock));
        if (open.Count == 0 && content.Located.Count == 0)
        {
            HtmlParts.Paragraph(html, "None.");
        }
    }

    private static void Connected(HtmlWriter html, ReportContent content)
    {
        HtmlParts.Section(html, "connected", "What was connected where");
        HtmlParts.Sentences(html, content.Connected, "Nobody told this report where the instrument was connected; what the inputs say of themselves stands below.");
        if (content.Survey.Nodes.Count > 0)
        {
            HtmlParts.Table(
                html,
                "Art-Net devices that answered polls",
                ["device", "address", "outputs", "inputs"],
                content.Survey.Nodes.Select(node => (IReadOnlyList<string>)
                [
                    node.PortName.Length > 0 ? node.PortName : node.LongName,
                    node.Address,
                    node.Outputs.Count == 0 ? Figures.None : Figures.Ranges([.. node.Outputs.Order()], 12),
                    node.InputsListed.Count == 0 ? Figures.None : Figures.Ranges([.. node.InputsListed.Order()], 12),
                ]));
        }
    }

    private static void Results(HtmlWriter html, ReportContent content)
    {
        HtmlParts.Section(html, "results", "Results");
        if (content.Survey.Universes.Count > 0)
        {
            html.Line("h3", "Universes and senders");
            ReportTables.Universes(html, content.Survey);
            HtmlParts.Paragraph(html, "Rates are of one sender alone. Missing: by sequence numbers, at the capture point; what the capture itself lost is counted apart.");
        }

        foreach (TimedInput input in content.Timed.Where(input => input.Figures.Any(figure => figure.Verdict != LimitVerdict.NotMeasurable)))
        {
            html.Line("h3", "Timing: " + input.Input);
            foreach (LineChannelSummary channel in input.Lines.Where(channel => channel.Doubt != LineDoubt.None))
            {
                HtmlParts.Paragraph(html, $"The reading of '{channel.Name}' is in doubt, so nothing on it is judged.", "caution");
            }

            ReportTables.Timing(html, input);
        }

        if (content.Taps.Count > 0)
        {
            html.Line("h3", "Two taps of one show");
            content.Taps.ToList().ForEach(sentence => HtmlParts.Paragraph(html, sentence));
        }
    }

    private static void Pictures(HtmlWriter html, ReportContent content)
    {
        HtmlParts.Section(html, "pictures", "Pictures");
        List<Picture> pictures = [.. content.Pictures, .. content.Located.Select(each => each.Picture).OfType<Picture>()];
        for (int place = 0; place < pictures.Count; place++)
        {
            HtmlParts.Of(html, pictures[place], place + 1);
        }

        if (pictures.Count == 0)
        {
            HtmlParts.Paragraph(html, "There is nothing to draw.");
        }
    }

    private static bool Claims(LocateAnswer answer) => answer.Claim is LocateClaim.Found or LocateClaim.Class;

    private static bool Outside(TimingMeasurement figure) => figure.Verdict is LimitVerdict.OutsideTransmit or LimitVerdict.OutsideReceive;
}
