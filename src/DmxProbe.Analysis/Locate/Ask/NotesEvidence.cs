using System.Globalization;

using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>Turns notes into evidence.</summary>
public static class NotesEvidence
{
    /// <summary>The evidence of notes: each look by itself, all taps together.</summary>
    /// <param name="rig">The rig.</param>
    /// <param name="histories">What was captured.</param>
    /// <param name="notes">The notes, oldest first.</param>
    /// <param name="problem">What is wrong with one of them; null when nothing is.</param>
    public static IReadOnlyList<AskEvidence> Of(AskRig rig, IReadOnlyList<SlotHistory> histories, IReadOnlyList<AskNote> notes, out InputProblem? problem)
    {
        ArgumentNullException.ThrowIfNull(rig);
        ArgumentNullException.ThrowIfNull(histories);
        ArgumentNullException.ThrowIfNull(notes);
        problem = null;
        List<AskEvidence> evidence = [];
        AskSafety safety = new(rig);
        Timestamp start = histories[0].Start;
        Timestamp end = start + Duration.FromNanoseconds(histories.Max(history => history.Samples) * 1_000_000_000L / SlotHistory.RatePerSecond);
        foreach (AskNote note in notes)
        {
            bool ofCapture = note.Raised is null && note.Seen.Kind is not (SeenKind.Rdm or SeenKind.Log or SeenKind.Unsure);
            if (ofCapture && (note.Time < start || note.Time > end + Duration.FromSeconds(2)))
            {
                problem = new InputProblem(
                    "a note is not of the time of the capture",
                    string.Create(CultureInfo.InvariantCulture, $"line {note.Line}, column 1 (time)"),
                    start + " to " + end,
                    note.Time.ToString(),
                    "check the clock, or give the time in seconds from the capture's first record");
                return [];
            }

            if (note.Seen.Kind is SeenKind.Dark or SeenKind.Lit or SeenKind.Flashing or SeenKind.Moving)
            {
                evidence.Add(note.Raised is null
                    ? LookEvidence.OfCapture(rig.Space, histories, note.Time, note.Seen, $"'{note.Seen}' noted at {Seconds(note.Time - start)}")
                    : Raised(rig, safety, note, note.Raised));
            }
            else if (note.Seen.Report is RdmReport report)
            {
                evidence.Add(NotedRdmEvidence.Of(rig.Space, report, null, $"it says it stores '{note.Seen}'", note.Time));
            }
        }

        Timestamp[] taps = [.. notes.Where(note => note.Seen.Kind == SeenKind.Tap).Select(note => note.Time)];
        if (taps.Length > 0)
        {
            Timestamp? from = notes.FirstOrDefault(note => note.Seen.Kind == SeenKind.TapStart)?.Time;
            Timestamp? to = notes.LastOrDefault(note => note.Seen.Kind == SeenKind.TapEnd)?.Time;
            evidence.Add(TapEvidence.Of(rig.Space, histories, taps, from is { } begun && begun < taps[0] ? begun : null, to is { } ended && ended > taps[^1] ? ended : null));
        }

        return evidence;
    }

    private static AskEvidence Raised(AskRig rig, AskSafety safety, AskNote note, IReadOnlyList<RaisedSlot> raised)
    {
        byte[][] stage = DarkStage.With(DarkStage.Of(rig, safety), raised);
        string text = $"'{note.Seen}' with {RaisedText.Write(rig, raised)} up";
        return LookEvidence.OfLevels(rig.Space, stage, note.Seen, text, note.Time, safety.Standing.Without(stage, raised));
    }

    private static string Seconds(Duration time) => string.Create(CultureInfo.InvariantCulture, $"{time.TotalSeconds:0.0} s");
}
