using System.Globalization;

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
        int at = Math.Max(0, picture.Universes.ToList().FindIndex(universe => universe == chosen));
        int first = Math.Clamp(at - (listed / 2), 0, Math.Max(0, picture.Universes.Count - listed));
        (int label, int obeyed) = width < Wide ? (13, 12) : (26, 24);
        int worst = width - label - obeyed - 39;
        List<ScreenRow> rows =
        [
            new($"  {Wrapped.Fit("universe", label)} sheet {Wrapped.Fit("rate", 13)} slots   lost  {Wrapped.Fit("obeyed", obeyed)} {Wrapped.Fit("worst", worst)}"),
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
        string name = label > 13 ? universe.Summary.Id.Label.Replace(" = Port-Address ", " = ", StringComparison.Ordinal) : universe.Summary.Id.Label.Split(" = ")[0];
        RecentSnapshot? recent = universe.Senders.FirstOrDefault(sender => sender.Recent is not null)?.Recent;
        string number = sheet is int known ? known.ToString(CultureInfo.InvariantCulture) : "-";
        string lost = universe.Summary.Streams.Sum(stream => stream.Sequence.Lost).ToString(CultureInfo.InvariantCulture);
        string last = recent is null ? "-" : recent.Frames[^1].ToString(CultureInfo.InvariantCulture);
        string slots = recent is null ? "-" : recent.SlotCount.ToString(CultureInfo.InvariantCulture);
        string finding = notYet ? "not heard yet" : universe.Worst is null ? "good" : Screen.Word(universe.Worst.Severity) + ": " + FindingText.Plain(universe.Worst.Id);
        string text = string.Create(CultureInfo.InvariantCulture,
            $"{(chosen ? '>' : ' ')} {Wrapped.Fit(name, label)} {number,5} {last,4} {Wrapped.Fit(History(recent), 8)} {slots,5} {lost,6}  {Wrapped.Fit(notYet ? "-" : Obeyed(universe), obeyed)} {Wrapped.Fit(finding, worst)}");
        return new ScreenRow(text, chosen ? Tint.Chosen : universe.Worst?.Severity switch
        {
            Severity.Fault => Tint.Fault,
            Severity.Warning => Tint.Warning,
            _ => Tint.Plain,
        });
    }

    // In a recording: nobody has sent it up to the moment shown, so nothing can be said of it.
    private static bool NotYet(UniversePicture universe, RigPicture picture) => picture.IsReview && universe.Senders.Count == 0;

    // Who is obeyed, and of how many senders.
    private static string Obeyed(UniversePicture universe)
    {
        SenderPicture[] obeyed = [.. universe.Senders.Where(sender => sender.Obeyed)];
        string others = universe.Senders.Count == 1 ? "" : string.Create(CultureInfo.InvariantCulture, $"{Math.Max(1, obeyed.Length)} of {universe.Senders.Count} ");
        return obeyed.Length == 0 ? "nobody" : others + Printable.Text(obeyed[0].Name.Trim('\''));
    }

    private static string History(RecentSnapshot? recent)
    {
        if (recent is null)
        {
            return "";
        }

        int most = Math.Max(FullRate, recent.Frames.Max());
        return string.Concat(recent.Frames.Select(count => Bars.Column(count == 0 ? -1 : count, most + 1)));
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
            string priority = stream.Priorities.Count > 0 ? string.Create(CultureInfo.InvariantCulture, $", priority {stream.Priorities[^1].Value}") : "";
            yield return new ScreenRow(Wrapped.Cut($"   {Printable.Text(sender.Name)}: {state}{priority}", width));
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
