using System.Globalization;
using DmxProbe.Analysis.Locate;

namespace DmxProbe.Benchmarks;

/// <summary>A rig from a log of <c>locate-table</c>.</summary>
/// <param name="Cell">Its cell.</param>
/// <param name="Claim">What was said.</param>
/// <param name="IsRight">Whether the best guess was right.</param>
/// <param name="Posterior">Of the best guess's class.</param>
/// <param name="Fit">How it fits, as far as the log says.</param>
public sealed record LoggedRig(string Cell, LocateClaim Claim, bool IsRight, double Posterior, LocateFit Fit)
{
    private const int Columns = 24;

    /// <summary>Reads a line; null where no hypothesis changed, or where the line is cut.</summary>
    public static LoggedRig? Parse(string line)
    {
        string[] cells = line.Split(',');
        if (cells.Length < Columns || cells[5].Length == 0)
        {
            return null;
        }

        double At(int i) => double.Parse(cells[i], CultureInfo.InvariantCulture);
        LocateFit fit = new(0, At(15), At(16), At(5), At(6), At(7), At(8), At(9), At(10), At(23), (int)At(11), (int)At(12), (int)At(13));
        return new LoggedRig(
            cells[0],
            Enum.Parse<LocateClaim>(cells[2]),
            cells[3] == "1",
            1 - At(4),
            cells[18].Length == 0 ? fit : fit with { Lead = At(17) - At(18) });
    }
}
