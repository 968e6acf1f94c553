using DmxProbe.Analysis.Timing;

namespace DmxProbe.Tui;

/// <summary>Figures as rows of block characters: eight heights, and where a figure lies between its limits.</summary>
internal static class Bars
{
    private const string Steps = "▁▂▃▄▅▆▇█";
    private const double Beyond = 0.25;
    private const double Far = 8;

    /// <summary>One column: the height of a figure out of the most; a full stop for none.</summary>
    /// <param name="value">The figure; below 0: nothing was there.</param>
    /// <param name="most">The figure of a full column; above 0.</param>
    public static char Column(double value, double most) => value < 0
        ? '.'
        : Steps[Math.Clamp((int)(value / most * Steps.Length), 0, Steps.Length - 1)];

    /// <summary>
    /// A measured span on the scale of its limit: <c>[</c> and <c>]</c> are the limits, <c>=</c> what was measured, <c>x</c>
    /// the part of it outside; <c>-</c> is allowed and was not met.
    /// </summary>
    /// <param name="least">Least measured.</param>
    /// <param name="most">Most measured.</param>
    /// <param name="limit">The limit.</param>
    /// <param name="width">Columns, 8 or more.</param>
    public static string Margin(double least, double most, LimitRange limit, int width)
    {
        (double from, double to) = limit switch
        {
            // Where the far limit is out of reach, the scale is that of the near one.
            { Min: > 0 and double min, Max: double max } when max > min * Far && most < min * Far => (0, min * 2 > most ? min * 2 : most * (1 + Beyond)),
            { Min: double min, Max: double max } when max > min => (min - ((max - min) * Beyond), max + ((max - min) * Beyond)),
            { Min: double min } => (0, Math.Max(min * 2, Math.Min(most, min * 8) * (1 + Beyond))),
            { Max: double max } => (0, Math.Max(max * (1 + Beyond), Math.Min(most, max * 8) * (1 + Beyond))),
            _ => (0, Math.Max(1, most)),
        };
        if (to <= from)
        {
            (from, to) = (from - 1, from + 1);
        }

        int Place(double value) => Math.Clamp((int)((value - from) / (to - from) * width), 0, width - 1);
        char[] bar = new char[width];
        for (int column = 0; column < width; column++)
        {
            double value = from + ((column + 0.5) / width * (to - from));
            bool allowed = !(value < limit.Min) && !(value > limit.Max);
            bool met = column >= Place(least) && column <= Place(most);
            bar[column] = (met, allowed) switch { (true, true) => '=', (true, false) => 'x', (false, true) => '-', _ => ' ' };
        }

        // What was measured stands over the mark of a limit, and says on which side of it it is.
        bar[Place(least)] = least < limit.Min || least > limit.Max ? 'x' : '=';
        bar[Place(most)] = most > limit.Max || most < limit.Min ? 'x' : '=';
        if (limit.Min is double low && bar[Place(low)] is ('-' or ' '))
        {
            bar[Place(low)] = '[';
        }

        if (limit.Max is double high && high <= to && bar[Place(high)] is ('-' or ' '))
        {
            bar[Place(high)] = ']';
        }

        return new string(bar);
    }
}
