using System.Globalization;

namespace DmxProbe.Analysis.Video;

/// <summary>
/// The true moment of each picture, from the lines in which ffmpeg's showinfo filter reports them: whole ticks of the
/// stated time base, because the seconds it prints beside them are rounded to six digits.
/// </summary>
public sealed class PictureTimes
{
    private readonly List<double> _seconds = [];
    private double _tick;
    private long? _first;

    /// <summary>Pictures reported.</summary>
    public int Count => _seconds.Count;

    /// <summary>Seconds from the first picture; NaN where the video gives it no time.</summary>
    public double this[int picture] => _seconds[picture];

    /// <summary>Takes a line of the report.</summary>
    /// <returns>False when it is about something else.</returns>
    public bool Add(string line)
    {
        ArgumentNullException.ThrowIfNull(line);
        int filter = line.IndexOf("showinfo", StringComparison.Ordinal);
        if (filter < 0)
        {
            return false;
        }

        if (Word(line, " config in time_base:") is string ratio)
        {
            string[] parts = ratio.TrimEnd(',').Split('/');
            if (parts.Length == 2
                && long.TryParse(parts[0], NumberStyles.None, CultureInfo.InvariantCulture, out long above)
                && long.TryParse(parts[1], NumberStyles.None, CultureInfo.InvariantCulture, out long below) && below > 0)
            {
                _tick = (double)above / below;
            }

            return true;
        }

        if (Word(line, " n:") is null || Word(line, " pts:") is not string pts)
        {
            return true;
        }

        double seconds = double.NaN;
        if (_tick > 0 && long.TryParse(pts, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out long ticks))
        {
            _first ??= ticks;
            seconds = ((double)ticks - _first.Value) * _tick;
        }

        _seconds.Add(seconds);
        return true;
    }

    private static string? Word(string line, string label)
    {
        int at = line.IndexOf(label, StringComparison.Ordinal);
        if (at < 0)
        {
            return null;
        }

        string rest = line[(at + label.Length)..].TrimStart();
        int end = rest.IndexOf(' ', StringComparison.Ordinal);
        return end < 0 ? rest : rest[..end];
    }
}
