using System.Globalization;

using DmxProbe.Analysis.Compare.Nights;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Cli;

/// <summary>
/// Marks and cues of a recording, so that a moment can be named by them: <c>mark:2</c>, <c>mark:strobe</c>, <c>cue:14</c>. Found by
/// reading the recording once.
/// </summary>
/// <param name="Marks">The marks, by time.</param>
/// <param name="Cues">The cues that the wire shows.</param>
/// <param name="Notes">What is not among them.</param>
internal sealed record RecordedMoments(IReadOnlyList<MarkSummary> Marks, IReadOnlyList<NightCue> Cues, IReadOnlyList<string> Notes)
{
    private const string Mark = "mark:";
    private const string Cue = "cue:";
    private const int MostNamed = 6;

    /// <summary>Whether a time is given by a mark or a cue.</summary>
    public static bool IsAsked(string? text) => text is not null
        && (text.TrimStart().StartsWith(Mark, StringComparison.OrdinalIgnoreCase) || text.TrimStart().StartsWith(Cue, StringComparison.OrdinalIgnoreCase));

    /// <summary>Reads a recording for them.</summary>
    /// <param name="name">The folder or file.</param>
    /// <param name="host">The process.</param>
    /// <exception cref="InputException">It cannot be opened.</exception>
    public static RecordedMoments Read(string name, ProgramHost host)
    {
        using ICaptureSource source = Inputs.OpenMerged([name]);
        using WaitLine wait = new(host, "reading for marks and cues");
        RecordDecoder decoder = new();
        SurveyAnalyzer surveyor = new();
        NightRecorder night = new();
        SurveySnapshot survey = Surveyor.Run(source, decoder, surveyor, new FanOut(surveyor, night, wait), host.Stop);
        host.Stop.ThrowIfCancellationRequested();
        Night cues = night.Snapshot(decoder);
        List<string> notes = [];
        if (survey.MarksNotListed > 0)
        {
            notes.Add($"{Figures.Count(survey.MarksNotListed, "more mark")} not kept");
        }

        if (!cues.IsWhole)
        {
            notes.Add("cues of the first part only: there are more than are kept");
        }

        return new RecordedMoments(survey.Marks, cues.Cues, notes);
    }

    /// <summary>The moment of a mark, or from which on the look of a cue stands.</summary>
    /// <param name="text">What was given.</param>
    /// <param name="option">The option, for the sentence.</param>
    /// <exception cref="UsageException">There is none, or there are several.</exception>
    public Timestamp Find(string text, string option)
    {
        string asked = text.Trim();
        bool isMark = asked.StartsWith(Mark, StringComparison.OrdinalIgnoreCase);
        string what = asked[(isMark ? Mark : Cue).Length..].Trim();
        bool isNumber = int.TryParse(what, NumberStyles.None, CultureInfo.InvariantCulture, out int number);
        return isMark ? OfMark(what, isNumber ? number : null, option)
            : isNumber && number >= 1 && number <= Cues.Count ? Cues[number - 1].Settled
            : throw new UsageException(Cues.Count == 0
                ? $"{option}: the wire shows no cue in this recording (its levels never come to rest, or never change), found '{text}'; give a time"
                : $"{option}: expected cue:1 to cue:{Cues.Count}, as the wire shows them, found '{text}'; --moments lists them");
    }

    private Timestamp OfMark(string what, int? number, string option)
    {
        if (number is int place && place >= 1 && place <= Marks.Count)
        {
            return Marks[place - 1].Time;
        }

        (MarkSummary Mark, int Number)[] found = [.. Marks.Select((mark, index) => (mark, index + 1)).Where(each => what.Length > 0 && each.mark.Text.Contains(what, StringComparison.OrdinalIgnoreCase))];
        return found.Length == 1 ? found[0].Mark.Time
            : throw new UsageException(Marks.Count == 0
                ? $"{option}: no mark was made in this recording (record mark DIR TEXT makes one while it records); give a time"
                : found.Length > 1
                    ? $"{option}: '{what}' is in {found.Length} marks; name one by its number: {string.Join(", ", found.Take(MostNamed).Select(each => $"mark:{each.Number} '{each.Mark.Text}'"))}{(found.Length > MostNamed ? $" and {found.Length - MostNamed} more" : "")}"
                    : $"{option}: expected mark:1 to mark:{Marks.Count}, or words of a mark, found '{what}'; --moments lists them");
    }
}
