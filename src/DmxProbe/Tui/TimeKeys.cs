using DmxProbe.Analysis.Findings;
using DmxProbe.Cli;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Text;

namespace DmxProbe.Tui;

/// <summary>What the keys of the time line do: they move the recording shown.</summary>
/// <param name="state">Where the person is.</param>
/// <param name="recording">The recording shown.</param>
/// <param name="zone">The zone of times.</param>
internal sealed class TimeKeys(ScreenState state, ReviewPictures recording, TimeZoneInfo zone)
{
    /// <summary>Takes a key.</summary>
    /// <returns>False when it is none of the time line.</returns>
    public bool Press(ScreenKey key)
    {
        TimeLine line = recording.Line;
        switch (key)
        {
            case { Letter: ' ' }:
                line.Playing = !line.Playing;
                break;
            case { Kind: KeyKind.Left or KeyKind.Right }:
                line.Go(line.At + Duration.FromSeconds(key.Kind == KeyKind.Left ? -1 : 1));
                break;
            case { Kind: KeyKind.Home or KeyKind.End }:
                line.Go(key.Kind == KeyKind.Home ? line.First : line.Last);
                break;
            case { Letter: ',' or '.' }:
                GoOn(recording.Change(state.ChosenIn(recording.Picture())?.Summary.Id, key.Letter == '.'), line, key.Letter == '.' ? "Nothing changes after this." : "Nothing changed before this.");
                break;
            case { Letter: 'L' } when state is { View: ScreenView.Unit, Unit: string unit }:
                GoOn(recording.Look(unit), line, "Up to the end it goes on like this.");
                break;
            case { Letter: 'L' }:
                state.Answer = "Go to a unit first: this finds when it next goes dark, comes on or starts to flash.";
                break;
            case { Letter: 'M' }:
                GoOn(Next(recording.Survey.Marks.Select(mark => mark.Time), line), line, "No mark was made.");
                break;
            case { Letter: 'W' }:
                GoOn(Next(recording.Survey.Findings.Where(finding => finding.Severity > Severity.Info && finding.From > Timestamp.MinValue).Select(finding => finding.From), line), line, "No fault and no warning was found.");
                break;
            case { Letter: 'A' }:
                line.A = line.A == line.At ? null : line.At;
                break;
            case { Letter: 'B' }:
                line.B = line.B == line.At ? null : line.At;
                break;
            case { Letter: '+' or '-' }:
                line.Faster(key.Letter == '+');
                break;
            case { Letter: 'J' }:
                state.Typing = "";
                state.TypingTime = true;
                break;
            default:
                return false;
        }

        return true;
    }

    /// <summary>Goes to a time that was typed, or says how to write one; untrusted text.</summary>
    public void GoTo(string typed)
    {
        TimeLine line = recording.Line;
        if (typed.StartsWith('t') || typed.StartsWith('T'))
        {
            GoOn(recording.TimeCode.Find(typed[1..].Trim(), line.At), line, recording.TimeCode.Spans.Count == 0
                ? "No time code was sent in this recording." : "That time code was never sent; write it as t1:00:12:05.");
            return;
        }

        try
        {
            Timestamp moment = AskedTime.Parse(typed, zone, "time").In(line.First);
            line.Go(moment);
            state.Answer = moment < line.First || moment > line.Last ? "The recording does not go so far." : "";
        }
        catch (UsageException)
        {
            // One row of 80 columns: what to write stands first.
            state.Answer = $"Write 19:41:07, 12.5 (seconds) or t1:00:12:05, not '{Printable.Text(typed)}'.";
        }
    }

    private void GoOn(Timestamp? moment, TimeLine line, string nothing)
    {
        if (moment is Timestamp known)
        {
            line.Go(known);
        }
        else
        {
            state.Answer = nothing;
        }
    }

    // The next one later than now, and from the last the first again.
    private static Timestamp? Next(IEnumerable<Timestamp> moments, TimeLine line)
    {
        List<Timestamp> all = [.. moments.Order()];
        int later = all.FindIndex(moment => moment > line.At);
        return all.Count == 0 ? null : all[Math.Max(0, later)];
    }
}
