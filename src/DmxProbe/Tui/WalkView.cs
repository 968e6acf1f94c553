using System.Globalization;

using DmxProbe.Analysis.Walk;
using DmxProbe.Cli.Text;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Text;

namespace DmxProbe.Tui;

/// <summary>The guided function check: the unit, what of it was moved, what moves now.</summary>
internal static class WalkView
{
    private const int Columns = 26;
    private const string Careful = "raise slowly; nobody at a unit that moves, nobody on a ladder under it. A function that is not to be exercised stays where it is.";
    private static readonly Duration Lately = Duration.FromSeconds(3);

    /// <summary>How far the check is, in one sentence.</summary>
    public static string Sentence(WalkResult walk, WalkGuide guide)
    {
        WalkFunction[] due = [.. walk.Functions.Where(IsDue)];
        int misfits = WalkReview.Remarks(walk, guide.Notes).Count;
        return string.Create(CultureInfo.InvariantCulture,
            $"{due.Count(function => function.Exercised)} of {due.Length} functions moved; of {walk.Targets.Count} units {guide.Count(WalkNote.AllRight)} all right, {guide.Count(WalkNote.NotRight)} not right; ")
            + (misfits == 0 ? "every move fits the sheet." : $"{Figures.Count(misfits, "move does not fit the sheet", "moves do not fit the sheet")}.");
    }

    /// <summary>Words and keys.</summary>
    public static GuideRows Rows(WalkResult walk, WalkGuide guide, RigPicture picture, int width, bool isRecording = false)
    {
        WalkTarget target = walk.Targets[guide.Target];
        List<ScreenRow> rows = [new("")];
        string verdict = guide.Verdict(guide.Unit.Unit);
        string position = guide.Unit.Position.Length > 0 ? ", " + Printable.Text(guide.Unit.Position) : "";
        rows.AddRange(Wrapped.Rows(string.Create(CultureInfo.InvariantCulture,
            $"Unit {guide.Place + 1} of {walk.Targets.Count}: {Printable.Text(guide.Unit.Unit)}{position}, {Printable.Text(guide.Unit.Type)}, {guide.Unit.Universe}.{guide.Unit.Address:000}{(target.Universe is { } wire ? ", on the wire " + wire.Label : ", not heard on any universe")}{(verdict.Length > 0 ? ": " + verdict : "")}"), width, " ", Tint.Chosen));
        WalkFunction[] functions = [.. walk.Functions.Where(function => function.Target == guide.Target)];
        WalkFunction[] due = [.. functions.Where(IsDue)];
        if (target.Mode is null)
        {
            rows.AddRange(Wrapped.Rows("It has no chart, so its functions are not known and none is to be moved.", width, " ", Tint.Warning));
        }

        int perRow = Math.Max(1, (width - 2) / Columns);
        for (int from = 0; from < due.Length; from += perRow)
        {
            rows.Add(new ScreenRow(Wrapped.Cut("  " + string.Concat(due.Skip(from).Take(perRow).Select(function => Wrapped.Fit($"[{(function.Exercised ? 'x' : ' ')}] {Printable.Text(function.Name)}", Columns))), width)));
        }

        WalkFunction? next = due.FirstOrDefault(function => !function.Exercised);
        WalkMove? move = walk.Moves.LastOrDefault(each => each.From <= picture.At);
        rows.Add(new ScreenRow(Wrapped.Cut(" moving: " + (move is not null && picture.At - move.To <= Lately ? Printable.Text(WalkText.Move(walk, move)) : "nothing alone"), width)));
        string told = next is not null && isRecording
            ? string.Create(CultureInfo.InvariantCulture, $"{next.Name} (slot {guide.Unit.Address + next.Slot - 1}) was not moved alone in {(picture.IsReview ? "this recording" : "the recording up to now")}: this goes by what it shows. To move it and look, check live: dmxprobe watch net --patch SHEET, then C")
            : next is not null
            ? string.Create(CultureInfo.InvariantCulture, $"now move {next.Name} alone (slot {guide.Unit.Address + next.Slot - 1}), and look whether {guide.Unit.Unit} does it")
            : due.Length > 0 ? isRecording ? "everything was moved in the recording: was it all right?" : "everything was moved: was it all right?" : "nothing of it is to be moved";
        rows.AddRange(Wrapped.Rows(Printable.Text(told), width, " "));
        WalkFunction[] dangerous = target.Mode is null ? [] : [.. functions.Where(function => function.Danger.Length > 0)];
        if (dangerous.Length > 0)
        {
            rows.AddRange(Wrapped.Rows("not to be exercised: " + Printable.Text(string.Join(", ", dangerous.Select(function => $"{function.Name} ({function.Danger})"))), width, " ", Tint.Warning));
        }

        if (!isRecording)
        {
            rows.AddRange(Wrapped.Rows("Mind: " + Careful, width, " ", Tint.Warning));
        }

        if (WalkReview.Remarks(walk, guide.Notes) is { Count: > 0 } remarks)
        {
            rows.AddRange(Wrapped.Rows("does not fit: " + Printable.Text(remarks[^1].Text) + (remarks.Count > 1 ? string.Create(CultureInfo.InvariantCulture, $"; and {remarks.Count - 1} before") : ""), width, " ", Tint.Fault));
        }

        rows.AddRange(Wrapped.Rows(guide.Log is string log ? $"kept in {Printable.Text(log)}; walk --notes and this screen go on from it" : "what you say is not kept: start with --log FILE", width, " "));
        return new GuideRows(rows, guide.Keys());
    }

    private static bool IsDue(WalkFunction function) => function.Danger.Length == 0 && !function.DoesNothing;
}
