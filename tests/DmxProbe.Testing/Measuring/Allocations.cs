namespace DmxProbe.Testing.Measuring;

/// <summary>
/// Bytes that code allocates on this thread. The runtime itself allocates now and then when it replaces code by faster
/// code, so the least of several rounds counts: code that allocates for each item does so in every round.
/// </summary>
public static class Allocations
{
    private const int MostRounds = 40;

    /// <summary>Runs <paramref name="round"/> until one round allocates nothing, at most 40 times.</summary>
    /// <param name="round">Many items of the same work.</param>
    /// <returns>The least that a round allocated, in bytes.</returns>
    public static long Least(Action round)
    {
        long least = long.MaxValue;
        for (int i = 0; i < MostRounds && least > 0; i++)
        {
            long before = GC.GetAllocatedBytesForCurrentThread();
            round();
            least = Math.Min(least, GC.GetAllocatedBytesForCurrentThread() - before);
        }

        return least;
    }
}
