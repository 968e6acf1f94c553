using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Decoding.Line;
using DmxProbe.Analysis.Diagnosis;
using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Timing;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Plots;
using DmxProbe.Reporting.Text;

namespace DmxProbe.Reporting.Html;

/// <summary>The hand-over report: the answer first, then what it rests on, for a reader who has not seen this tool.</summary>
public static class ReportPage
{
    private const int MostNotes = 40;
    private const int MostSentences = 3;

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
        List<string> sentences = Sentences(content);
        ReportFaults faults = new(content, sentences);
        _ = html.Open("main", ("id", "main"));
        Answer(html, content, faults, sentences);
        faults.Write(html);
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
        if (content.Diagnosis is { Open.Count: > 0 } diagnosis)
        {
            HtmlParts.Section(html, "cannot", "What these inputs cannot exclude");
            HtmlParts.Sentences(html, diagnosis.Open, "");
        }

        List<Finding> notes = [.. faults.Findings.Where(finding => finding.Severity == Severity.Info).Take(MostNotes)];
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
            ? WallClock.IsUndated(first) || first == default
                ? $"a recording without a date, {Figures.Time(Figures.Between(first, last))}"
                : $"{content.Clock.Span(first, last)}, {Figures.Time(Figures.Between(first, last))}"
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

    // What the answer says, most pressing first.
    private static List<string> Sentences(ReportContent content)
    {
        DiagnosisResult? diagnosis = content.Diagnosis?.Result;
        List<string> sentences = [.. content.Located.Select(each => each.Answer.Sentence)];
        if (diagnosis is not null && content.Diagnosis!.Bad.Count > 0 && content.Located.Count == 0)
        {
            sentences.Add(diagnosis.Sentence);
        }

        IEnumerable<string> faults = (diagnosis?.Ranked ?? []).Where(cause => cause is { Severity: Severity.Fault, Cause: not LocateCause }).Select(cause => cause.Text)
            .Concat(content.Survey.Findings.Concat(content.MoreFindings).Where(finding => finding.Severity == Severity.Fault).Select(finding => finding.Text))
            .Concat(content.Links.Where(link => link.Found.HasFaults).Select(link => link.Sentence));
        foreach (string fault in faults.Distinct())
        {
            // The diagnosis holds the text of its first cause, behind who it is about.
            if (sentences.Count < MostSentences + content.Located.Count && !sentences.Any(said => said.Contains(fault.TrimEnd('.'), StringComparison.Ordinal)))
            {
                sentences.Add(fault);
            }
        }

        return sentences;
    }

    private static void Answer(HtmlWriter html, ReportContent content, ReportFaults all, List<string> sentences)
    {
        int faults = all.Count(Severity.Fault) + content.Located.Count(each => each.Answer.IsClaim && !each.Answer.AsTheSheetSays);
        int warnings = all.Count(Severity.Warning);
        List<TimingMeasurement> outside = [.. content.Timed.SelectMany(input => input.Figures).Where(Outside)];
        int links = content.Links.Count(link => link.Found.HasFaults);
        bool isFaulty = faults > 0 || outside.Count > 0 || links > 0;
        html.Line("h2", "The answer", ("id", "answer"));
        html.Break();
        _ = html.Open("div", ("class", "answer " + (isFaulty ? "fault" : warnings > 0 ? "warning" : "clean")));
        List<string> shown = [.. sentences];
        if (shown.Count == 0)
        {
            shown.Add(outside.Count > 0 ? $"{Figures.Count(outside.Count, "figure is", "figures are")} outside the limits."
                : all.Causes.Count > 0 ? all.Causes[0].Text
                : warnings > 0 ? all.Findings[0].Text
                : $"No fault found in {SurveyContents.Of(content.Survey)}.");
        }

        shown.ForEach(sentence => HtmlParts.Paragraph(html, Figures.Ended(sentence)));
        HtmlParts.Paragraph(html, $"In all: {Figures.Count(faults, "fault")}, {Figures.Count(warnings, "warning")}; {Figures.Count(outside.Count, "timing figure")} outside its limits{(content.Links.Count > 0 ? $"; {Figures.Count(links)} of {Figures.Count(content.Links.Count, "link")} with something wrong" : "")}.");
        content.Remarks.ToList().ForEach(remark => HtmlParts.Paragraph(html, Figures.Ended(remark)));
        _ = html.Close();
        html.Break();
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
                    PortAddresses(node.Outputs),
                    PortAddresses(node.InputsListed),
                ]));
        }
    }

    private static string PortAddresses(IEnumerable<int> ports)
    {
        const int most = 12;
        int[] all = [.. ports.Order()];
        return all.Length == 0 ? "none"
            : string.Join(", ", all.Take(most).Select(port => new UniverseId(UniverseProtocol.ArtNet, port).Label)) + (all.Length > most ? $" and {Figures.Count(all.Length - most)} more" : "");
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

        if (content.Taps.Count + content.Links.Count > 0)
        {
            html.Line("h3", "Two taps of one show");
            content.Taps.ToList().ForEach(sentence => HtmlParts.Paragraph(html, sentence));
        }

        foreach (ReportLink link in content.Links)
        {
            HtmlParts.Paragraph(html, Figures.Ended(link.Sentence));
            HtmlParts.Table(html, $"From {link.Near} to {link.Far}", ["what", "figures"], link.Rows.Select(row => (IReadOnlyList<string>)[row.What, row.Figures]));
        }
    }

    private static void Pictures(HtmlWriter html, ReportContent content)
    {
        HtmlParts.Section(html, "pictures", "Pictures");
        List<Picture> pictures = [.. content.Links.SelectMany(link => link.Pictures), .. content.Pictures, .. content.Located.Select(each => each.Picture).OfType<Picture>()];
        for (int place = 0; place < pictures.Count; place++)
        {
            HtmlParts.Of(html, pictures[place], place + 1);
        }

        if (pictures.Count == 0)
        {
            HtmlParts.Paragraph(html, "There is nothing to draw.");
        }
    }

    private static bool Outside(TimingMeasurement figure) => figure.Verdict is LimitVerdict.OutsideTransmit or LimitVerdict.OutsideReceive;
}
