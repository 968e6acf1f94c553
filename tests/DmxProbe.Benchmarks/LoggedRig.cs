using System.Globalization;
using DmxProbe.Analysis.Locate;

namespace DmxProbe.Benchmarks;

/// <summary>A rig from a log of <c>locate-table</c>, judged by the rule as it is built: a rule can be changed without running a table again.</summary>
/// <param name="Cell">Its cell.</param>
/// <param name="Claim">What is said; what was said where that is no claim.</param>
/// <param name="IsRight">Whether the best guess was right.</param>
/// <param name="Posterior">Of the best guess's class.</param>
/// <param name="Fit">How it fits, as far as the log says; null where no hypothesis changed.</param>
public sealed record LoggedRig(string Cell, LocateClaim Claim, bool IsRight, double Posterior, LocateFit? Fit)
{
    private const int Columns = 24;

    /// <summary>Hypotheses that change.</summary>
    public int Hypotheses { get; init; }

    /// <summary>Whether a claim or "one of these" holds the truth.</summary>
    public bool SetIsRight { get; init; }

    /// <summary>Whether a claim or "one of these" does not.</summary>
    public bool SetIsWrong { get; init; }

    /// <summary>How long the inference took.</summary>
    public double Milliseconds { get; init; }

    /// <summary>A claim was made.</summary>
    public bool Claims => Claim is LocateClaim.Found or LocateClaim.Class;

    /// <summary>The claim passes the strict rule.</summary>
    public bool IsStrict => Claims && Fit is not null && LocateRule.Strict.AllowsFit(Fit) && LocateRule.Strict.AllowsPosterior(Posterior, Fit, Hypotheses);

    /// <summary>Reads a line; null where it is cut.</summary>
    public static LoggedRig? Parse(string line)
    {
        string[] cells = line.Split(',');
        if (cells.Length < Columns)
        {
            return null;
        }

        double At(int i) => double.Parse(cells[i], CultureInfo.InvariantCulture);
        LocateFit? fit = cells[5].Length == 0
            ? null
            : new LocateFit(0, At(15), At(16), At(5), At(6), At(7), At(8), At(9), At(10), At(23), (int)At(11), (int)At(12), (int)At(13))
            {
                Lead = cells[18].Length == 0 ? double.PositiveInfinity : At(17) - At(18),
                RivalsWithSpill = cells.Length > Columns ? At(Columns) : 0,
            };
        LocateClaim said = Enum.Parse<LocateClaim>(cells[2]);
        bool right = cells[3] == "1";
        bool claims = fit is not null && LocateRule.Normal.AllowsFit(fit) && LocateRule.Normal.AllowsPosterior(1 - At(4), fit, (int)At(14));
        LocateClaim claim = claims ? At(19) > 1 ? LocateClaim.Class : LocateClaim.Found
            : said is LocateClaim.Found or LocateClaim.Class ? LocateClaim.NotEnough : said;
        return new LoggedRig(cells[0], claim, right, 1 - At(4), fit)
        {
            Hypotheses = (int)At(14),
            SetIsRight = claims ? right : claim == LocateClaim.OneOf && cells[20] == "1",
            SetIsWrong = claims ? !right : claim == LocateClaim.OneOf && cells[21] == "1",
            Milliseconds = At(22),
        };
    }
}
