using System.Globalization;

using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Index;

/// <summary>
/// ArtTimeCode over a recording (Art-Net 4, document 1.4dn, page 64): which time code stood at a moment, and when a time
/// code stood. Several streams of it are taken as one. Bounded: a span is begun anew only where the code jumps or rests.
/// </summary>
public sealed class TimeCodeAnalyzer : IAnalyzer
{
    /// <summary>Most spans kept.</summary>
    public const int MostSpans = 4_096;

    private const double Day = 24 * 3600;

    // Drop frame runs a thousandth slow, and packets come late: more than that is a jump.
    private const double Jump = 0.5;

    // After this long without a packet nobody can say what time code stands.
    private static readonly Duration Rests = Duration.FromSeconds(1);

    // Times are shown to a millisecond.
    private static readonly Duration Slack = Duration.FromMilliseconds(1);
    private readonly List<TimeCodeSpan> _spans = [];

    /// <summary>The spans, oldest first.</summary>
    public IReadOnlyList<TimeCodeSpan> Spans => _spans;

    /// <inheritdoc/>
    public void OnFrame(in DmxFrame frame)
    {
        // Time code comes in packets of its own.
    }

    /// <inheritdoc/>
    public void OnEvent(in LinkEvent linkEvent)
    {
        if (linkEvent.Kind != LinkEventKind.ArtTimeCode)
        {
            return;
        }

        int rate = linkEvent.B switch { 0 => 24, 1 => 25, _ => 30 };
        double code = (((linkEvent.A >> 24) & 0xFF) * 3600) + (((linkEvent.A >> 16) & 0xFF) * 60) + ((linkEvent.A >> 8) & 0xFF) + ((double)(linkEvent.A & 0xFF) / rate);
        if (_spans.Count > 0 && _spans[^1] is TimeCodeSpan last && last.FramesPerSecond == rate && linkEvent.Time - last.To <= Rests
            && Math.Abs(last.Code + (linkEvent.Time - last.From).TotalSeconds - code) < Jump)
        {
            _spans[^1] = last with { To = linkEvent.Time > last.To ? linkEvent.Time : last.To };
        }
        else if (_spans.Count < MostSpans)
        {
            _spans.Add(new TimeCodeSpan(linkEvent.Time, linkEvent.Time, code, rate));
        }
    }

    /// <inheritdoc/>
    public void OnTime(Timestamp now)
    {
        // Only packets tell a time code.
    }

    /// <summary>The time code at a moment, as it is written: <c>01:00:12:05</c>; null where none was running.</summary>
    public string? At(Timestamp moment)
    {
        int place = _spans.FindLastIndex(span => span.From <= moment && moment <= span.To + Rests);
        if (place < 0)
        {
            return null;
        }

        TimeCodeSpan span = _spans[place];
        double code = (span.Code + ((moment < span.To ? moment : span.To) - span.From).TotalSeconds) % Day;

        // Half a millisecond: figures of a frame are not whole in binary.
        int frames = (int)((code - Math.Floor(code) + 0.0005) * span.FramesPerSecond);
        int seconds = (int)code + (frames >= span.FramesPerSecond ? 1 : 0);
        return string.Create(CultureInfo.InvariantCulture, $"{seconds / 3600:00}:{seconds / 60 % 60:00}:{seconds % 60:00}:{frames % span.FramesPerSecond:00}");
    }

    /// <summary>When a time code stood: the next time after a moment, else the first; null where it never did or the text is none.</summary>
    /// <param name="text">Hours, minutes, seconds and, if wanted, frames.</param>
    /// <param name="after">The moment.</param>
    public Timestamp? Find(string text, Timestamp after)
    {
        ArgumentNullException.ThrowIfNull(text);
        string[] parts = text.Split(':', ';', '.');
        int[] figures = new int[4];
        if (parts.Length is not (3 or 4))
        {
            return null;
        }

        for (int part = 0; part < parts.Length; part++)
        {
            if (!int.TryParse(parts[part], NumberStyles.None, CultureInfo.InvariantCulture, out figures[part]) || figures[part] > 59)
            {
                return null;
            }
        }

        Timestamp? first = null;
        foreach (TimeCodeSpan span in _spans)
        {
            double code = (figures[0] * 3600) + (figures[1] * 60) + figures[2] + ((double)figures[3] / span.FramesPerSecond);
            Timestamp moment = span.From + Duration.FromSeconds(code - span.Code);
            if (code >= span.Code - 0.001 && moment - span.To <= Slack)
            {
                first ??= moment;
                if (moment > after)
                {
                    return moment;
                }
            }
        }

        return first;
    }
}
