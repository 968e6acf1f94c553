namespace DmxProbe.Protocols.Records;

/// <summary>
/// Sums that stop at the ends of 64 bit. A capture file may stamp one record 1678 and the next 2262: the time between them
/// does not fit, and no file may make the program fail.
/// </summary>
internal static class Saturating
{
    /// <summary>The sum, or the end of the range it lies beyond.</summary>
    public static long Add(long left, long right)
    {
        long sum = unchecked(left + right);
        return ((left ^ sum) & (right ^ sum)) < 0 ? EndOnTheSideOf(left) : sum;
    }

    /// <summary>The difference, or the end of the range it lies beyond.</summary>
    public static long Subtract(long left, long right)
    {
        long difference = unchecked(left - right);
        return ((left ^ right) & (left ^ difference)) < 0 ? EndOnTheSideOf(left) : difference;
    }

    private static long EndOnTheSideOf(long value) => value < 0 ? long.MinValue : long.MaxValue;
}
