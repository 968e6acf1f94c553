namespace DmxProbe.Cli.Text;

/// <summary>What both kinds of comparison begin and end with: which kind it is and why, what was compared, and what to do next.</summary>
internal static class CompareText
{
    /// <summary>Lines of what was found, and universes of a link told, unless all are asked for.</summary>
    public const int MostLines = 10;

    private const int MostActions = 3;
    private const int LabelWidth = 12;

    /// <summary>Says which kind of comparison this is, why, and of what.</summary>
    /// <param name="page">The page.</param>
    /// <param name="kind">The kind, a few words.</param>
    /// <param name="run">The run.</param>
    /// <param name="first">What the first input is, and what is to be known of it.</param>
    /// <param name="second">The same of the second.</param>
    public static void Head(TextPage page, string kind, CompareRun run, (string Is, string About) first, (string Is, string About) second)
    {
        page.Heading($"{kind}, {run.Because}");
        page.Labelled(first.Is, $"{run.Sides[0].Name}, {first.About}", LabelWidth);
        page.Labelled(second.Is, $"{run.Sides[1].Name}, {second.About}", LabelWidth);
        foreach (string warning in run.Warnings)
        {
            page.Paragraph(warning, indent: 2, tone: Tone.Warning);
        }

        foreach (string cut in run.Sides.SelectMany(side => side.Cuts))
        {
            page.Paragraph(cut, indent: 2, tone: Tone.Warning);
        }

        page.Blank();
    }

    /// <summary>The times of an input.</summary>
    public static string Span(WallClock clock, CompareSide side) => side is { First: { } from, Last: { } to } ? clock.Span(from, to) : "no record";

    /// <summary>What to do next about what matters most, a line for each kind of trouble.</summary>
    /// <param name="page">The page.</param>
    /// <param name="actions">What it is about, and what to do; most important first.</param>
    public static void Next(TextPage page, IEnumerable<(string About, string Action)> actions)
    {
        (string About, string Action)[] each = [.. actions.DistinctBy(action => action.Action).Take(MostActions)];
        if (each.Length == 0)
        {
            return;
        }

        page.Blank();
        page.Heading("What to do next");
        foreach ((string about, string action) in each)
        {
            page.Paragraph($"{about}: {Figures.Ended(action)}", indent: 2);
        }
    }
}
