using System.Globalization;
using DmxProbe.Testing.Arbitration;

namespace DmxProbe.Benchmarks;

/// <summary>
/// <c>who-wins</c>: who wins each slot of captures/arbitration/who-wins.pcapng at each time, as worked out by hand from the
/// standards and as the arbitration finds it; returns 1 where they differ.
/// </summary>
internal static class WhoWinsTable
{
    public static int Run(string[] arguments)
    {
        int differ = 0;
        Console.WriteLine("| time, s | slot | winner, reason, level | worked out by hand from | found |");
        Console.WriteLine("|---|---|---|---|---|");
        foreach (WhoWinsByHand row in WhoWinsByHand.Lines.Select(WhoWinsByHand.Read))
        {
            using WhoWinsReading reading = new(row.Universe);
            reading.ReadTo(TrafficScript.At(row.Seconds));
            string found = reading.Words(row.Slot);
            bool same = found == row.Answer;
            differ += same ? 0 : 1;
            Console.WriteLine(string.Create(
                CultureInfo.InvariantCulture,
                $"| {row.Seconds:0.00} | {row.Universe.Label} slot {row.Slot} | {row.Answer} | {row.Source} | {(same ? "the same" : "NOT: " + found)} |"));
        }

        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{WhoWinsByHand.Lines.Count} rows, {differ} differ"));
        return differ == 0 ? 0 : 1;
    }
}
