using System.Globalization;

using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Tui;

/// <summary>The time line of a recording: where the person is, where marks and faults are, and the points A and B.</summary>
internal static class TimeLineRows
{
    private const int Times = 26;

    /// <summary>First column of the line itself.</summary>
    public const int LineFrom = 14;

    /// <summary>Columns of the line itself.</summary>
    public static int LineWidth(int width) => Math.Max(10, width - Times - 2);

    /// <summary>The line.</summary>
    public static ScreenRow Row(ReviewPictures review, WallClock clock, int width)
    {
        TimeLine line = review.Line;
        int columns = LineWidth(width);
        char[] track = [.. Enumerable.Repeat('-', columns)];
        foreach (Finding finding in review.Survey.Findings.Where(finding => finding.Severity > Severity.Info && finding.From > Timestamp.MinValue))
        {
            track[line.Column(finding.From, columns)] = '!';
        }

        foreach (MarkSummary mark in review.Survey.Marks)
        {
            track[line.Column(mark.Time, columns)] = 'm';
        }

        Put(line.A, 'A');
        Put(line.B, 'B');
        Put(line.At, '#');
        return new ScreenRow($" {clock.Time(line.First)} {new string(track)} {clock.Time(line.Last)}");

        void Put(Timestamp? moment, char mark)
        {
            if (moment is Timestamp known)
            {
                track[line.Column(known, columns)] = mark;
            }
        }
    }

    /// <summary>How it plays, in words.</summary>
    public static string Words(TimeLine line) => string.Create(CultureInfo.InvariantCulture,
        $"{(line.Playing ? "playing" : "stopped")}, speed {line.Speed:0.##}{(line.A is Timestamp a && line.B is Timestamp b ? $", A to B {Figures.Time(Figures.Between(a < b ? a : b, a < b ? b : a))}" : "")}");

    /// <summary>The keys that work on it.</summary>
    public static IReadOnlyList<KeyHint> Hints(TimeLine line) =>
    [
        new("Space", line.Playing ? "stop" : "play", ScreenKey.Typed(' ')),
        new("←→", "1 s", new ScreenKey(KeyKind.Right)),
        new(",.", "step", ScreenKey.Typed('.')),
        KeyHint.Letter('L', "look"),
        KeyHint.Letter('M', "mark"),
        KeyHint.Letter('W', "fault"),
        KeyHint.Letter('J', "time"),
        new("AB", "loop", ScreenKey.Typed('B')),
        new("+-", "speed", ScreenKey.Typed('+')),
    ];
}
