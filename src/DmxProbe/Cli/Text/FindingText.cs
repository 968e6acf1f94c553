using DmxProbe.Analysis.Findings;

namespace DmxProbe.Cli.Text;

/// <summary>Findings as text: each one sentence, what was measured, what to do, where to look.</summary>
internal static class FindingText
{
    private const int LabelWidth = 9;

    // Faults and warnings always show; remarks beyond this many are counted.
    private const int MostNotes = 8;
    private const int MostOthers = 40;

    private static readonly Dictionary<string, string> Names = new()
    {
        ["cid"] = "CID",
        ["dmx"] = "DMX",
        ["ipv6"] = "IPv6",
        ["rdm"] = "RDM",
        ["sacn"] = "sACN",
        ["uid"] = "UID",
        ["utf8"] = "UTF-8",
    };

    private static readonly Dictionary<string, string> Joined = new()
    {
        ["art net"] = "Art-Net",
        ["art nzs"] = "ArtNzs",
        ["art RDM"] = "ArtRdm",
        ["art sync"] = "ArtSync",
    };

    /// <summary>The word of a severity.</summary>
    public static string Word(Severity severity) => severity switch
    {
        Severity.Fault => "fault",
        Severity.Warning => "warning",
        _ => "note",
    };

    /// <summary>How many there are of each severity: <c>1 fault, 2 warnings</c>; empty when there are none.</summary>
    public static string Counts(IReadOnlyList<Finding> findings) => string.Join(
        ", ",
        new[] { Severity.Fault, Severity.Warning, Severity.Info }
            .Select(severity => (Severity: severity, Count: findings.Count(finding => finding.Severity == severity)))
            .Where(group => group.Count > 0)
            .Select(group => Figures.Count(group.Count, Word(group.Severity))));

    /// <summary>Its cause and where, in a few words: <c>senders at equal priority on sACN 2</c>.</summary>
    public static string Name(Finding finding) =>
        Plain(finding.Id) + (finding.Subject.Length == 0 ? "" : " on " + finding.Subject);

    /// <summary>The name of a cause as it is spoken, with the names in it written as everywhere: <c>several Art-Net senders</c>.</summary>
    public static string Plain(string id)
    {
        string name = string.Join(' ', id.Split('-').Select(word => Names.GetValueOrDefault(word, word)));
        return Joined.Aggregate(name, (text, pair) => text.Replace(pair.Key, pair.Value, StringComparison.Ordinal));
    }

    /// <summary>Writes the findings with a heading; nothing when there are none.</summary>
    /// <param name="page">Where to.</param>
    /// <param name="findings">The findings.</param>
    /// <param name="clock">How times are written.</param>
    /// <param name="all">Lists at full length.</param>
    /// <param name="said">The one whose sentence stands above already: here it is only named.</param>
    public static void Write(TextPage page, IReadOnlyList<Finding> findings, WallClock clock, bool all, Finding? said = null)
    {
        if (findings.Count == 0)
        {
            return;
        }

        page.Blank();
        page.Heading("Findings");
        List<Finding> notes = [.. findings.Where(finding => finding.Severity == Severity.Info)];
        List<Finding> others = [.. findings.Where(finding => finding.Severity != Severity.Info)];
        List<Finding> open = [.. others.Take(all ? others.Count : MostOthers), .. notes.Take(all ? notes.Count : MostNotes)];
        while (open.Count > 0)
        {
            // What is cured by the same stands together, with what to do once, at the end.
            Finding[] together = [.. open.Where(other => ReferenceEquals(other, open[0]) || IsCuredAlike(other, open[0]))];
            open.RemoveAll(together.Contains);
            foreach (Finding finding in together)
            {
                One(page, finding, clock, isSaid: ReferenceEquals(finding, said));
            }

            Cure(page, together[0], together.Length);
        }

        long left = all ? 0 : Math.Max(0, others.Count - MostOthers) + Math.Max(0, notes.Count - MostNotes);
        if (left > 0)
        {
            page.Paragraph($"and {Figures.Count(left)} more (--all shows all)", indent: 2);
        }
    }

    private static void One(TextPage page, Finding finding, WallClock clock, bool isSaid)
    {
        Tone tone = finding.Severity switch
        {
            Severity.Fault => Tone.Fault,
            Severity.Warning => Tone.Warning,
            _ => Tone.Plain,
        };
        string text = isSaid
            ? Name(finding) + ", as said above"
            : finding.Subject.Length == 0 || finding.Text.Contains(finding.Subject, StringComparison.Ordinal)
            ? finding.Text
            : finding.Subject + ": " + finding.Text;
        page.Labelled(Word(finding.Severity), text, LabelWidth, tone: tone);
        int indent = LabelWidth + 2;
        if (finding.Measured.Length > 0 || finding.Limit.Length > 0)
        {
            string figures = finding.Limit.Length == 0
                ? finding.Measured
                : string.Join("; ", new[] { finding.Measured, "limit " + finding.Limit }.Where(part => part.Length > 0));
            page.Paragraph(finding.LimitSource.Length == 0 ? figures : $"{figures} ({finding.LimitSource})", indent);
        }
        else if (finding.LimitSource.Length > 0)
        {
            page.Paragraph("rule: " + finding.LimitSource, indent);
        }

        string seen = Seen(finding, clock);
        if (seen.Length > 0)
        {
            page.Paragraph(seen, indent);
        }

    }

    private static bool IsCuredAlike(Finding one, Finding other) =>
        one.Action.Length > 0 && one.Severity == other.Severity && one.Action == other.Action && one.Cautions.SequenceEqual(other.Cautions);

    private static void Cure(TextPage page, Finding finding, int count)
    {
        int indent = LabelWidth + 2;
        if (finding.Action.Length > 0)
        {
            page.Paragraph((count == 1 ? "Do: " : $"Do, for these {Figures.Count(count)}: ") + finding.Action, indent);
        }

        foreach (string caution in finding.Cautions)
        {
            page.Paragraph("Mind: " + caution, indent);
        }
    }

    private static string Seen(Finding finding, WallClock clock)
    {
        string when = finding.From == default
            ? ""
            : finding.To == default || finding.To == finding.From
                ? "at " + clock.Time(finding.From)
                : $"{clock.Time(finding.From)} to {clock.Time(finding.To)}";
        string record = finding.FirstRecord > 0 ? "first in record " + Figures.Count(finding.FirstRecord) : "";
        string place = string.Join(", ", new[] { when, record }.Where(part => part.Length > 0));
        return place.Length == 0 ? "" : "seen " + place;
    }
}
