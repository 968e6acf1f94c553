using System.Globalization;

using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Universes;
using DmxProbe.Reporting.Text;

namespace DmxProbe.Tui;

/// <summary>All universes, a row each, the ones in trouble first; below, the chosen one in words.</summary>
internal static class RigView
{
    private const string Steps = "▁▂▃▄▅▆▇█";
    private const int DetailRows = 8;

    // A line full of slots carries 44 frames a second: the height of the history is a share of that.
    private const int FullRate = 44;

    /// <summary>The rows of the view.</summary>
    public static IReadOnlyList<ScreenRow> Rows(RigPicture picture, ScreenState state, ScreenSheet sheet, int width, int room)
    {
        UniversePicture? chosen = state.ChosenIn(picture);
        int detail = room > DetailRows + 4 ? DetailRows : 0;
        int listed = Math.Max(1, room - detail - 1);
        int at = Math.Max(0, picture.Universes.ToList().FindIndex(universe => universe == chosen));
        int first = Math.Clamp(at - (listed / 2), 0, Math.Max(0, picture.Universes.Count - listed));
        int worst = width - 63;
        List<ScreenRow> rows = [new ScreenRow("  universe             sheet  senders  frames/s      slots   lost  worst")];
        foreach (UniversePicture universe in picture.Universes.Skip(first).Take(listed))
        {
            rows.Add(Row(universe, universe == chosen, sheet.NumberOf(universe.Summary.Id, picture), worst));
        }

        if (detail > 0 && chosen is not null)
        {
            while (rows.Count < room - detail)
            {
                rows.Add(new ScreenRow(""));
            }

            rows.AddRange(Detail(chosen, width).Take(detail));
        }

        return rows;
    }

    private static ScreenRow Row(UniversePicture universe, bool chosen, int? sheet, int worst)
    {
        // Art-Net's label is long: the row keeps the number a person asks for, the words below keep the whole of it.
        string label = universe.Summary.Id.Label.Replace(" = Port-Address ", " = ", StringComparison.Ordinal);
        RecentSnapshot? recent = universe.Senders.FirstOrDefault(sender => sender.Recent is not null)?.Recent;
        string number = sheet is int known ? known.ToString(CultureInfo.InvariantCulture) : "-";
        string lost = universe.Summary.Streams.Sum(stream => stream.Sequence.Lost).ToString(CultureInfo.InvariantCulture);
        string last = recent is null ? "-" : recent.Frames[^1].ToString(CultureInfo.InvariantCulture);
        string slots = recent is null ? "-" : recent.Levels.Length.ToString(CultureInfo.InvariantCulture);
        string finding = universe.Worst is null ? "good" : Screen.Word(universe.Worst.Severity) + ": " + universe.Worst.Id.Replace('-', ' ');
        string text = string.Create(CultureInfo.InvariantCulture,
            $"{(chosen ? '>' : ' ')} {Wrapped.Fit(label, 20)} {number,5}  {universe.Senders.Count,7}  {last,4} {History(recent),-8} {slots,5}  {lost,5}  {Wrapped.Cut(finding, worst)}");
        return new ScreenRow(text, chosen ? Tint.Chosen : universe.Worst?.Severity switch
        {
            Severity.Fault => Tint.Fault,
            Severity.Warning => Tint.Warning,
            _ => Tint.Plain,
        });
    }

    private static string History(RecentSnapshot? recent)
    {
        if (recent is null)
        {
            return "";
        }

        int most = Math.Max(FullRate, recent.Frames.Max());
        return string.Concat(recent.Frames.Select(count => count == 0 ? '.' : Steps[Math.Clamp(count * Steps.Length / (most + 1), 0, Steps.Length - 1)]));
    }

    private static IEnumerable<ScreenRow> Detail(UniversePicture universe, int width)
    {
        yield return new ScreenRow(" " + universe.Summary.Id.Label);
        foreach (SenderPicture sender in universe.Senders.Take(3))
        {
            StreamSummary stream = sender.Stream;
            string state = stream.Terminated ? "ended its stream" : stream.Silent ? "gone silent" : sender.Obeyed ? "obeyed" : "not obeyed";
            string priority = stream.Priorities.Count > 0 ? string.Create(CultureInfo.InvariantCulture, $", priority {stream.Priorities[^1].Value}") : "";
            yield return new ScreenRow(Wrapped.Cut($"   {Printable.Text(sender.Name)}: {state}{priority}", width));
        }

        if (universe.Worst is Finding worst)
        {
            foreach (ScreenRow row in Wrapped.Rows(Printable.Text(worst.Text + (worst.Action.Length > 0 ? " Next: " + worst.Action : "")), width, "   "))
            {
                yield return row;
            }

            foreach (string caution in worst.Cautions)
            {
                yield return new ScreenRow(Wrapped.Cut("   Mind: " + Printable.Text(caution), width), Tint.Warning);
            }
        }
    }
}
