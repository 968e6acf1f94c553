using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Universes;
using DmxProbe.Cli.Text;
using DmxProbe.Reporting.Text;

namespace DmxProbe.Tui;

/// <summary>All universes, a row each, the ones in trouble first; below, the chosen one in words.</summary>
internal static class RigView
{
    private const int LeastListed = 6;
    private const int Wide = 100;

    // A line full of slots carries 44 frames a second: the height of the history is a share of that.
    private const int FullRate = 44;

    /// <summary>The rows of the view.</summary>
    public static IReadOnlyList<ScreenRow> Rows(RigPicture picture, ScreenState state, int width, int room)
    {
        UniversePicture? chosen = state.ChosenIn(picture);
        // As many rows as the words need: what is to be minded is never cut.
        List<ScreenRow> told = chosen is null ? [] : [.. Detail(chosen, picture, width)];
        int detail = Math.Clamp(told.Count, 0, Math.Max(0, room - LeastListed));
        int listed = Math.Max(1, room - detail - 1);
        int at = 0;
        for (int index = 0; index < picture.Universes.Count; index++)
        {
            at = picture.Universes[index] == chosen ? index : at;
        }

        int first = Math.Clamp(at - (listed / 2), 0, Math.Max(0, picture.Universes.Count - listed));
        (int label, int obeyed) = width < Wide ? (13, 12) : (26, 24);
        int worst = width - label - obeyed - 39;
        List<ScreenRow> rows =
        [
            new(RowTexts.Of($"  {Fitted.To("universe", label)} sheet {Fitted.To("rate", 13)} slots   lost  {Fitted.To("obeyed", obeyed)} {Fitted.To("worst", worst)}")),
        ];
        for (int index = first; index < Math.Min(picture.Universes.Count, first + listed); index++)
        {
            UniversePicture universe = picture.Universes[index];
            rows.Add(Row(universe, universe == chosen, NotYet(universe, picture), ScreenSheet.NumberOf(universe.Summary.Id, picture), label, obeyed, worst) with { Choice = index + 1 });
        }

        if (detail > 0)
        {
            while (rows.Count < room - detail)
            {
                rows.Add(new ScreenRow(""));
            }

            rows.AddRange(told.Take(detail));
        }

        return rows;
    }

    private static ScreenRow Row(UniversePicture universe, bool chosen, bool notYet, int? sheet, int label, int obeyed, int worst)
    {
        // Art-Net's label is long: the row keeps as much as it holds, the words below keep the whole of it.
        string whole = universe.Summary.Id.Label;
        ReadOnlySpan<char> name = label > 13 ? whole.Replace(" = Port-Address ", " = ", StringComparison.Ordinal) : whole.AsSpan(0, whole.IndexOf(" = ", StringComparison.Ordinal) is > 0 and int end ? end : whole.Length);
        RecentSnapshot? recent = Recent(universe);
        long lost = 0;
        for (int stream = 0; stream < universe.Summary.Streams.Count; stream++)
        {
            lost += universe.Summary.Streams[stream].Sequence.Lost;
        }

        string finding = notYet ? "not heard yet" : universe.Worst is null ? "good" : RowTexts.Of($"{Screen.Word(universe.Worst.Severity)}: {FindingText.Plain(universe.Worst.Id)}");
        Span<char> history = stackalloc char[RecentAnalyzer.Seconds];
        RowText row = new(0, 0);
        row.AppendFormatted(chosen ? '>' : ' ');
        row.AppendFormatted(' ');
        row.AppendFormatted(Fitted.To(name, label));
        row.AppendFormatted(' ');
        Number(row, sheet, 5);
        row.AppendFormatted(' ');
        Number(row, recent?.Frames[^1], 4);
        row.AppendFormatted(' ');
        row.AppendFormatted(Fitted.To(History(recent, history), RecentAnalyzer.Seconds));
        row.AppendFormatted(' ');
        Number(row, recent?.SlotCount, 5);
        row.AppendFormatted(' ');
        row.AppendFormatted(lost, 6);
        row.AppendLiteral("  ");
        row.AppendFormatted(Fitted.To(notYet ? "-" : Obeyed(universe), obeyed));
        row.AppendFormatted(' ');
        row.AppendFormatted(Fitted.To(finding, worst));
        string text = RowTexts.Of(row);
        return new ScreenRow(text, chosen ? Tint.Chosen : universe.Worst?.Severity switch
        {
            Severity.Fault => Tint.Fault,
            Severity.Warning => Tint.Warning,
            _ => Tint.Plain,
        });
    }

    private static void Number(RowText row, int? figure, int width)
    {
        if (figure is int known)
        {
            row.AppendFormatted(known, width);
        }
        else
        {
            row.AppendFormatted("-", width);
        }
    }

    private static RecentSnapshot? Recent(UniversePicture universe)
    {
        IReadOnlyList<SenderPicture> senders = universe.Senders;
        for (int sender = 0; sender < senders.Count; sender++)
        {
            if (senders[sender].Recent is RecentSnapshot recent)
            {
                return recent;
            }
        }

        return null;
    }

    // In a recording: nobody has sent it up to the moment shown, so nothing can be said of it.
    private static bool NotYet(UniversePicture universe, RigPicture picture) => picture.IsReview && universe.Senders.Count == 0;

    // Who is obeyed, and of how many senders.
    private static string Obeyed(UniversePicture universe)
    {
        IReadOnlyList<SenderPicture> senders = universe.Senders;
        SenderPicture? first = null;
        int obeyed = 0;
        for (int sender = 0; sender < senders.Count; sender++)
        {
            first = senders[sender].Obeyed && first is null ? senders[sender] : first;
            obeyed += senders[sender].Obeyed ? 1 : 0;
        }

        return first is null ? "nobody"
            : senders.Count == 1 ? RowTexts.Of($"{Printable.Text(first.Name).AsSpan().Trim('\'')}")
            : RowTexts.Of($"{Math.Max(1, obeyed)} of {senders.Count} {Printable.Text(first.Name).AsSpan().Trim('\'')}");
    }

    private static ReadOnlySpan<char> History(RecentSnapshot? recent, Span<char> columns)
    {
        if (recent is null)
        {
            return [];
        }

        int most = FullRate;
        foreach (int count in recent.Frames)
        {
            most = Math.Max(most, count);
        }

        for (int second = 0; second < recent.Frames.Length; second++)
        {
            columns[second] = Bars.Column(recent.Frames[second] == 0 ? -1 : recent.Frames[second], most + 1);
        }

        return columns;
    }

    private static IEnumerable<ScreenRow> Detail(UniversePicture universe, RigPicture picture, int width)
    {
        Finding? told = picture.Worst;
        yield return new ScreenRow(" " + universe.Summary.Id.Label);
        if (NotYet(universe, picture))
        {
            yield return new ScreenRow("   not heard yet at this moment");
            yield break;
        }

        foreach (SenderPicture sender in universe.Senders.Take(3))
        {
            StreamSummary stream = sender.Stream;
            string state = stream.Terminated ? "ended its stream" : stream.Silent ? "gone silent" : sender.Obeyed ? "obeyed" : "not obeyed";
            string priority = stream.Priorities.Count > 0 ? RowTexts.Of($", priority {stream.Priorities[^1].Value}") : "";
            yield return new ScreenRow(RowTexts.Cut(width, $"   {Printable.Text(sender.Name)}: {state}{priority}"));
        }

        if (universe.Worst is Finding worst)
        {
            // The first row of the screen has said the worst of all already.
            string text = ReferenceEquals(worst, told) && worst.Action.Length > 0 ? "" : worst.Text + " ";
            foreach (ScreenRow row in Wrapped.Rows(Printable.Text(text + (worst.Action.Length > 0 ? "Next: " + worst.Action : "")), width, "   "))
            {
                yield return row;
            }

            foreach (string caution in worst.Cautions)
            {
                foreach (ScreenRow row in Wrapped.Rows("Mind: " + Printable.Text(caution), width, "   ", Tint.Warning))
                {
                    yield return row;
                }
            }
        }
    }
}
