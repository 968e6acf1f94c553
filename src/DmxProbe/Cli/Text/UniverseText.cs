using System.Globalization;

using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;

namespace DmxProbe.Cli.Text;

/// <summary>One universe as text: its senders in a table, what is to be said of each, and who is obeyed.</summary>
internal static class UniverseText
{
    private const int MostSenders = 12;
    private const int MostSpans = 8;
    private static readonly HashSet<int> FigureColumns = [1, 2, 3, 4, 5, 6, 7, 8, 9];

    /// <summary>Writes a universe.</summary>
    public static void Write(TextPage page, UniverseSummary universe, SurveySnapshot survey, WallClock clock, bool all)
    {
        SenderWords names = new(universe.Streams.Select(stream => stream.Sender));
        page.Heading(
            $"{universe.Id.Label}: {Figures.Count(universe.Streams.Count, "sender")}, {Figures.Count(universe.Frames, "frame")}");
        List<StreamSummary> shown = [.. universe.Streams.Take(all ? int.MaxValue : MostSenders)];
        page.Table(
            ["sender", "frames", "mean\nrate", "refresh\nrate", "changed", "keep-\nalive", "slots\nsent", "lost", "out of\norder", "re-\npeated"],
            FigureColumns,
            shown.Select(stream => Row(stream, names)));
        if (shown.Count < universe.Streams.Count)
        {
            page.Paragraph($"and {Figures.Count(universe.Streams.Count - shown.Count, "more sender")} (--all shows all)", indent: 2);
        }

        foreach (StreamSummary stream in shown)
        {
            StreamText.Write(page, stream, names[stream.Sender.Index], survey, clock, all);
        }

        Obeyed(page, universe, names, clock, all);
        WinnerText.Write(page, universe, names, clock, all);
    }

    private static string[] Row(StreamSummary stream, SenderWords names)
    {
        bool counted = stream.Sequence.Counted > 0;
        return
        [
            names[stream.Sender.Index],
            Figures.Count(stream.Frames),
            Figures.Rate(stream.RateHz),
            Figures.Rate(stream.RunningHz),
            Figures.Rate(stream.ChangedHz),
            Figures.Time(stream.KeepAlive),
            SlotCounts(stream.SlotCounts),
            counted ? Figures.Count(stream.Sequence.Lost) : Figures.None,
            counted ? Figures.Count(stream.Sequence.OutOfOrder) : Figures.None,
            counted ? Figures.Count(stream.Sequence.Repeated) : Figures.None,
        ];
    }

    private static string SlotCounts(IReadOnlyList<CountOf> counts) => counts.Count switch
    {
        0 => Figures.None,
        1 => counts[0].Value.ToString(CultureInfo.InvariantCulture),
        _ => string.Create(CultureInfo.InvariantCulture, $"{counts.Min(count => count.Value)}-{counts.Max(count => count.Value)}"),
    };

    private static void Obeyed(TextPage page, UniverseSummary universe, SenderWords names, WallClock clock, bool all)
    {
        if (universe.Obeyed.Count == 0)
        {
            return;
        }

        bool alone = universe.Streams.Count == 1 && universe.Obeyed.Count == 1;
        if (alone)
        {
            return;
        }

        page.Paragraph("A conforming receiver obeys:", indent: 2);
        foreach (ObeyedSpan span in universe.Obeyed.Take(all ? int.MaxValue : MostSpans))
        {
            page.Labelled($"{clock.Time(span.From)} to {clock.Time(span.To)}", Who(span, universe.Id.Protocol, names), 0, indent: 4);
        }

        long left = universe.ObeyedNotListed + (all ? 0 : Math.Max(0, universe.Obeyed.Count - MostSpans));
        if (left > 0)
        {
            page.Paragraph($"and {Figures.Count(left, "more change")}{(all ? "" : " (--all shows those kept)")}", indent: 4);
        }
    }

    private static string Who(ObeyedSpan span, UniverseProtocol protocol, SenderWords names)
    {
        string priority = span.Priority < 0 ? "" : string.Create(CultureInfo.InvariantCulture, $" at priority {span.Priority}");
        string ignored = span.Ignored.Count == 0 ? "" : $"; {Names(span.Ignored, names)} {(span.Ignored.Count == 1 ? "is" : "are")} ignored";
        return span.Senders.Count switch
        {
            0 => "nobody: every sender is lost or has terminated",
            1 => names[span.Senders[0]] + priority + (span.IsMergeCancelled ? " alone: the merge was cancelled" : "") + ignored,
            _ => Names(span.Senders, names) + priority
                + (protocol == UniverseProtocol.ArtNet ? ": the node merges them as it is set" + ignored : ": which of them is the receiver's own choice"),
        };
    }

    private static string Names(IReadOnlyList<int> indexes, SenderWords names) => string.Join(" and ", indexes.Select(index => names[index]));
}
