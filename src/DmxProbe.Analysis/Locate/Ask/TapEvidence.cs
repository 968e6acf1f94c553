using System.Globalization;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>
/// The tap key, pressed when the light reacts, held against the moves that every place makes: a Poisson process with a low
/// rate everywhere and a hump after each move. Reaction 0.30 s +- 0.17 s, nine moves in ten are tapped, one tap in 50 s is
/// of nothing (research figures of this project, simulated).
/// </summary>
public static class TapEvidence
{
    /// <summary>Mean reaction, seconds.</summary>
    public const double Reaction = 0.30;

    /// <summary>Its deviation, seconds.</summary>
    public const double Spread = 0.17;

    /// <summary>Share of the moves that are tapped.</summary>
    public const double Hit = 0.9;

    /// <summary>Taps of nothing, a second.</summary>
    public const double Stray = 0.02;

    /// <summary>A change smaller than this is not seen (full = 1).</summary>
    public const double SmallestMove = 0.05;

    /// <summary>Moves that begin closer than this are one for a finger, samples.</summary>
    private const int OneFinger = 12;

    // Without a stated session: before the first tap and after the last.
    private const double Margin = 1.0;

    /// <summary>Weighs a series of taps.</summary>
    /// <param name="space">The places.</param>
    /// <param name="histories">What was captured.</param>
    /// <param name="taps">The taps in order, at least one.</param>
    /// <param name="from">When the person began to tap; null = just before the first tap.</param>
    /// <param name="to">When they ended; null = just after the last tap.</param>
    public static AskEvidence Of(AskSpace space, IReadOnlyList<SlotHistory> histories, IReadOnlyList<Timestamp> taps, Timestamp? from = null, Timestamp? to = null)
    {
        ArgumentNullException.ThrowIfNull(space);
        ArgumentNullException.ThrowIfNull(histories);
        ArgumentNullException.ThrowIfNull(taps);
        ArgumentOutOfRangeException.ThrowIfZero(taps.Count, nameof(taps));
        Timestamp start = from ?? taps[0] - Duration.FromSeconds(Margin);
        Timestamp end = to ?? taps[^1] + Duration.FromSeconds(Margin / 2);
        double[] nats = new double[space.Count + 1];
        Array.Fill(nats, double.NegativeInfinity);
        foreach (SlotHistory history in histories)
        {
            int universe = space.Universes.ToList().IndexOf(history.Universe);
            int senders = histories.Count(other => other.Universe == history.Universe);
            double zero = (start - history.Start).TotalSeconds * SlotHistory.RatePerSecond;
            double length = (end - start).TotalSeconds;
            if (universe >= 0)
            {
                Sender(space, universe, history, (int)Math.Floor(zero), length, [.. taps.Select(tap => (tap - start).TotalSeconds)], Math.Log(senders), nats);
            }
        }

        // None of these: taps at their own mean rate.
        double session = Math.Max((end - start).TotalSeconds, 1);
        nats[^1] = (taps.Count * Math.Log(Math.Max(taps.Count, 1) / session)) - taps.Count;
        double still = (taps.Count * Math.Log(Stray)) - (Stray * session);
        for (int i = 0; i < space.Count; i++)
        {
            nats[i] = double.IsNegativeInfinity(nats[i]) ? still : nats[i];
        }

        string text = string.Create(CultureInfo.InvariantCulture, $"{taps.Count} {(taps.Count == 1 ? "tap" : "taps")} within {session:0} s");
        return AskEvidence.OfNats(AskEvidenceKind.Taps, text, taps[0], nats);
    }

    private static void Sender(AskSpace space, int universe, SlotHistory history, int first, double seconds, double[] taps, double share, double[] nats)
    {
        // Moves just before the session may still be tapped in it.
        const int Before = 30;
        int from = Math.Max(first - Before, 0);
        int count = Math.Max((int)Math.Ceiling(seconds * SlotHistory.RatePerSecond) + (first - from), 1);
        UniverseWindow window = new();
        window.Load(history, [.. Enumerable.Range(from, count)]);
        Prediction prediction = new(3);
        List<(double At, double Length)> moves = [];
        for (int m = 0; m < space.Modes.Count; m++)
        {
            LightReader reader = new(space.Modes[m]);
            for (int address = 1; address <= SlotHistory.SlotCount; address++)
            {
                moves.Clear();
                if (reader.Read(window, address, count, -1, prediction))
                {
                    Moves(prediction, (from - first) / (double)SlotHistory.RatePerSecond, moves);
                }

                int index = space.IndexOf(new AskPlace(universe, address, m));
                double here = LogLikelihood(moves, taps, seconds) - share;
                nats[index] = double.IsNegativeInfinity(nats[index]) ? here : Both(nats[index], here);
            }
        }
    }

    /// <summary>The moves of a prediction, seconds from the session's start.</summary>
    private static void Moves(Prediction prediction, double offset, List<(double At, double Length)> moves)
    {
        int i = 1;
        while (i < prediction.Count)
        {
            int begun = i;
            while (i + 1 < prediction.Count && prediction.At[i + 1] - prediction.At[i] <= 6)
            {
                i++;
            }

            double size = 0;
            for (int step = begun; step <= i; step++)
            {
                foreach (double[] channel in prediction.Value)
                {
                    size = Math.Max(size, Math.Abs(channel[step] - channel[begun - 1]));
                }
            }

            double at = (prediction.At[begun] / (double)SlotHistory.RatePerSecond) + offset;
            bool close = moves.Count > 0 && at - moves[^1].At < OneFinger / (double)SlotHistory.RatePerSecond;
            if (size >= SmallestMove && !close)
            {
                moves.Add((at, (prediction.At[i] - prediction.At[begun]) / (double)SlotHistory.RatePerSecond));
            }

            i++;
        }
    }

    private static double LogLikelihood(List<(double At, double Length)> moves, double[] taps, double seconds)
    {
        double nats = -Stray * seconds;
        foreach ((double at, double length) in moves)
        {
            nats -= at + Reaction >= 0 && at + Reaction <= seconds ? Hit : 0;
        }

        foreach (double tap in taps)
        {
            double rate = Stray;
            foreach ((double at, double length) in moves)
            {
                // A fade is noticed somewhere in its first half.
                double spread = Math.Sqrt((Spread * Spread) + (length * length / 16));
                double z = (tap - at - Reaction - (length / 4)) / spread;
                rate += Math.Abs(z) < 6 ? Hit * Math.Exp(-0.5 * z * z) / (spread * Math.Sqrt(2 * Math.PI)) : 0;
            }

            nats += Math.Log(rate);
        }

        return nats;
    }

    private static double Both(double first, double second)
    {
        double top = Math.Max(first, second);
        return top + Math.Log(Math.Exp(first - top) + Math.Exp(second - top));
    }
}
