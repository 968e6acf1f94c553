namespace DmxProbe.Analysis.Timing;

/// <summary>
/// The one rule by which a measured range stands against its limits: outside only when it is outside by more than the
/// measurement's own uncertainty; within that uncertainty of a limit it is undecided; fewer than three measurements decide
/// nothing about a "never" (rule of three).
/// </summary>
public static class LimitRule
{
    /// <summary>Measurements below which no range is called inside.</summary>
    public const int FewestToDecide = 3;

    /// <summary>What an undecided range stands against where too little was measured.</summary>
    internal const string TooFew = "too few measurements";

    /// <summary>Judges a range.</summary>
    /// <param name="min">Least value measured.</param>
    /// <param name="max">Greatest value measured.</param>
    /// <param name="count">Measurements behind it.</param>
    /// <param name="uncertainty">One sample period plus clock error, in the same unit, 0 or more.</param>
    /// <param name="transmit">Transmit limits, or null.</param>
    /// <param name="receive">Receive limits, or null.</param>
    /// <param name="undecidedAgainst">For <see cref="LimitVerdict.Undecided"/>: against which limit; else empty.</param>
    public static LimitVerdict Judge(
        double min,
        double max,
        long count,
        double uncertainty,
        LimitRange? transmit,
        LimitRange? receive,
        out string undecidedAgainst) =>
        Judge(min, uncertainty, max, uncertainty, count, transmit, receive, out undecidedAgainst);

    /// <summary>Judges a range whose ends are not known equally well: the clock's error grows with the value.</summary>
    /// <param name="min">Least value measured.</param>
    /// <param name="minUncertainty">One sample period plus clock error at that value.</param>
    /// <param name="max">Greatest value measured.</param>
    /// <param name="maxUncertainty">One sample period plus clock error at that value.</param>
    /// <param name="count">Measurements behind it.</param>
    /// <param name="transmit">Transmit limits, or null.</param>
    /// <param name="receive">Receive limits, or null.</param>
    /// <param name="undecidedAgainst">For <see cref="LimitVerdict.Undecided"/>: against which limit; else empty.</param>
    public static LimitVerdict Judge(
        double min,
        double minUncertainty,
        double max,
        double maxUncertainty,
        long count,
        LimitRange? transmit,
        LimitRange? receive,
        out string undecidedAgainst)
    {
        undecidedAgainst = "";
        Standing sent = Stand(min, minUncertainty, max, maxUncertainty, transmit);
        Standing accepted = Stand(min, minUncertainty, max, maxUncertainty, receive);
        if (accepted == Standing.Outside || (sent == Standing.Outside && accepted == Standing.Inside))
        {
            return accepted == Standing.Outside ? LimitVerdict.OutsideReceive : LimitVerdict.OutsideTransmit;
        }

        if (accepted == Standing.Near)
        {
            undecidedAgainst = "receive limit";
            return LimitVerdict.Undecided;
        }

        if (sent == Standing.Near)
        {
            undecidedAgainst = "transmit limit";
            return LimitVerdict.Undecided;
        }

        if (count < FewestToDecide && (transmit is not null || receive is not null))
        {
            undecidedAgainst = TooFew;
            return LimitVerdict.Undecided;
        }

        return LimitVerdict.Inside;
    }

    /// <summary>
    /// The greatest share that may lie outside although none of the measurements did, at 95 % (rule of three, 3/n); 1 for
    /// fewer than three. Holds if packets vary independently.
    /// </summary>
    public static double UnseenShare(long count) => count < FewestToDecide ? 1 : 3.0 / count;

    private static Standing Stand(double min, double minUncertainty, double max, double maxUncertainty, LimitRange? limit)
    {
        if (limit is null)
        {
            return Standing.Inside;
        }

        // Nothing measured here is negative: a limit of 0 is met as soon as 0 lies within the uncertainty.
        Standing below = limit.Min is not double least ? Standing.Inside
            : least > 0 ? Against(least - min, minUncertainty)
            : -min > minUncertainty ? Standing.Outside
            : Standing.Inside;
        Standing above = limit.Max is double greatest ? Against(max - greatest, maxUncertainty) : Standing.Inside;
        return below > above ? below : above;
    }

    // How far past the limit: more than the uncertainty, within it either way (its ends included), or short of it.
    private static Standing Against(double past, double uncertainty) =>
        past > uncertainty ? Standing.Outside
        : past > 0 || (uncertainty > 0 && -past <= uncertainty) ? Standing.Near
        : Standing.Inside;

    private enum Standing
    {
        Inside,
        Near,
        Outside,
    }
}
