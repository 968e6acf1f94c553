using System.Text;

using DmxProbe.Analysis.Findings;
using DmxProbe.Reporting.Plots;
using DmxProbe.Reporting.Text;

namespace DmxProbe.Reporting.Html;

/// <summary>Parts that several pages are put together from.</summary>
internal static class HtmlParts
{
    private const int MostCellsShown = 3_000;

    /// <summary>The head of a page: a way past it, its title, what it is about, and the way to its sections.</summary>
    /// <param name="html">The page.</param>
    /// <param name="title">Title; may be untrusted.</param>
    /// <param name="about">Place, time and who; may be untrusted.</param>
    /// <param name="sections">Identifier and name of each section.</param>
    public static void Head(HtmlWriter html, string title, string about, IEnumerable<(string Id, string Name)> sections)
    {
        html.Line("a", "To the answer", ("class", "skip"), ("href", "#main"));
        _ = html.Open("header");
        html.Line("h1", title);
        Paragraph(html, about + ".", "about");
        _ = html.Open("nav", ("aria-label", "Sections")).Open("ul");
        foreach ((string id, string name) in sections)
        {
            _ = html.Open("li");
            html.Line("a", name, ("href", "#" + id));
            _ = html.Close();
        }

        _ = html.Close().Close().Close();
        html.Break();
    }

    /// <summary>The heading of a section.</summary>
    public static void Section(HtmlWriter html, string id, string name)
    {
        html.Line("h2", name, ("id", id));
        html.Break();
    }

    /// <summary>The foot of a page.</summary>
    /// <param name="html">The page.</param>
    /// <param name="nature">What the page is, and what it is not.</param>
    public static void Foot(HtmlWriter html, string nature)
    {
        _ = html.Open("footer");
        Paragraph(html, nature + " DMX512, sACN and Art-Net give no assurance that a command arrives: nothing here says that something is safe to approach. Local codes and house rules prevail.");
        Paragraph(html, "Art-Net\u2122 Designed by and Copyright Artistic Licence");
        _ = html.Close();
    }

    /// <summary>A paragraph; nothing where the text is empty.</summary>
    public static void Paragraph(HtmlWriter html, string text, string kind = "")
    {
        if (text.Length > 0)
        {
            html.Line("p", text, kind.Length > 0 ? [("class", kind)] : []);
            html.Break();
        }
    }

    /// <summary>A list of sentences; one sentence of its own where there are none.</summary>
    public static void Sentences(HtmlWriter html, IReadOnlyList<string> sentences, string none)
    {
        if (sentences.Count == 0)
        {
            Paragraph(html, none);
            return;
        }

        _ = html.Open("ul");
        foreach (string sentence in sentences)
        {
            html.Line("li", Figures.Ended(sentence));
        }

        _ = html.Close();
        html.Break();
    }

    /// <summary>A table that a small screen may push sideways.</summary>
    /// <param name="html">The page.</param>
    /// <param name="name">What it is, for those who hear it.</param>
    /// <param name="heads">Headings.</param>
    /// <param name="rows">Cells.</param>
    /// <param name="figures">Columns that hold figures.</param>
    /// <param name="hashes">Columns that hold hashes.</param>
    public static void Table(
        HtmlWriter html, string name, IReadOnlyList<string> heads, IEnumerable<IReadOnlyList<string>> rows, IReadOnlySet<int>? figures = null, IReadOnlySet<int>? hashes = null)
    {
        _ = html.Open("div", ("class", "wide"), ("tabindex", "0"), ("role", "region"), ("aria-label", name));
        _ = html.Open("table").Open("thead").Open("tr");
        foreach (string head in heads)
        {
            html.Line("th", head, ("scope", "col"));
        }

        _ = html.Close().Close().Open("tbody");
        html.Break();
        foreach (IReadOnlyList<string> row in rows)
        {
            _ = html.Open("tr");
            for (int column = 0; column < row.Count; column++)
            {
                (string, string)[] kind = figures?.Contains(column) == true ? [("class", "figure")]
                    : hashes?.Contains(column) == true ? [("class", "hash")] : [];
                html.Line("td", row[column], kind);
            }

            _ = html.Close();
            html.Break();
        }

        _ = html.Close().Close().Close();
        html.Break();
    }

    /// <summary>A finding: word, sentence, figures, what to do.</summary>
    /// <param name="html">The page.</param>
    /// <param name="finding">The finding.</param>
    /// <param name="clock">Writes times.</param>
    /// <param name="isSaid">Whether the page said its sentence already.</param>
    /// <param name="position">Which units it touches, and where they hang; may be empty.</param>
    public static void Of(HtmlWriter html, Finding finding, WallClock clock, bool isSaid = false, string position = "")
    {
        string word = finding.Severity switch { Severity.Fault => "fault", Severity.Warning => "warning", _ => "note" };
        _ = html.Open("div", ("class", "finding " + word));
        _ = html.Open("h3");
        html.Line("span", word, ("class", "word"));
        _ = html.Text(" " + finding.Subject).Close();
        Paragraph(html, isSaid ? "" : Figures.Ended(finding.Text));
        Paragraph(html, position);
        List<string> facts = [];
        if (finding.Measured.Length > 0)
        {
            facts.Add("measured: " + finding.Measured);
        }

        if (finding.Limit.Length > 0)
        {
            facts.Add($"limit: {finding.Limit}{(finding.LimitSource.Length > 0 ? $" ({finding.LimitSource})" : "")}");
        }

        if (finding.From != default && !WallClock.IsUndated(finding.From))
        {
            facts.Add($"from {clock.Time(finding.From)} to {clock.Time(finding.To)}{(finding.FirstRecord > 0 ? $", first in record {Figures.Count(finding.FirstRecord)}" : "")}");
        }

        Paragraph(html, facts.Count > 0 ? Figures.Ended(string.Join("; ", facts)) : "");
        Paragraph(html, finding.Action.Length > 0 ? "Next step: " + Figures.Ended(finding.Action) : "");
        foreach (string caution in finding.Cautions)
        {
            Paragraph(html, "Mind: " + Figures.Ended(caution), "caution");
        }

        _ = html.Close();
        html.Break();
    }

    /// <summary>A picture with what it shows in words, and its data.</summary>
    public static void Of(HtmlWriter html, Picture picture, int number)
    {
        html.Line("h3", picture.Title);
        _ = html.Open("figure").Open("div", ("class", "wide"), ("tabindex", "0"), ("role", "region"), ("aria-label", "Picture: " + picture.Title));
        html.Empty(
            "img",
            ("src", "data:image/svg+xml;base64," + Convert.ToBase64String(Encoding.UTF8.GetBytes(picture.Svg))),
            ("alt", picture.Title + ". " + picture.Words),
            ("width", picture.Width.ToString(System.Globalization.CultureInfo.InvariantCulture)),
            ("height", picture.Height.ToString(System.Globalization.CultureInfo.InvariantCulture)));
        _ = html.Close();
        html.Line("figcaption", picture.Words);
        _ = html.Close();
        html.Break();
        if (picture.Rows.Count * picture.Columns.Count <= MostCellsShown)
        {
            _ = html.Open("details");
            html.Line("summary", "The data of this picture");
            Table(html, "The data of: " + picture.Title, picture.Columns, picture.Rows);
            _ = html.Close();
        }
        else
        {
            _ = html.Open("p");
            html.Line(
                "a",
                $"The data of this picture ({Figures.Count(picture.Rows.Count, "row")}, CSV)",
                ("href", "data:text/csv;charset=utf-8;base64," + Convert.ToBase64String(Csv(picture))),
                ("download", $"picture-{number}.csv"));
            _ = html.Close();
        }

        html.Break();
    }

    private static byte[] Csv(Picture picture)
    {
        using MemoryStream file = new();
        using Tables.CsvTableWriter table = new(
            new Tables.TableSpec("picture", "a span", [.. picture.Columns.Select(column => new Tables.TableColumn(Printable.Text(column), Tables.ColumnKind.Text, ""))]),
            file);
        foreach (IReadOnlyList<string> row in picture.Rows)
        {
            foreach (string cell in row)
            {
                table.Text(cell);
            }

            table.EndRow();
        }

        table.Finish();
        return file.ToArray();
    }
}
