using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Locate;

/// <summary>
/// Locating where the trace's clock is uncertain. The moments at which any hypothesis's light correlates best with the trace are
/// found at five samples a second; the inference then runs at the few best of them. A claim needs the other moments to be out of the
/// question, and each open moment counts as a hypothesis more.
/// </summary>
internal static class ClockSearch
{
    private const int Step = 6; // samples of the histories for one of the search
    private const double PerSecond = (double)SlotHistory.RatePerSecond / Step;
    private const int Tried = 4;
    private const double Apart = 0.6;
    private const double SmallestShare = 0.5;

    // A moment at which something else fits nearly as well leaves both open.
    private const double LeastLead = 40;

    // The search lines both up without delay; the inference looks from 0 to half a second: its middle.
    private const double UsualDelay = 0.25;

    private static readonly double[] Mean = [.. Enumerable.Repeat(1.0 / Step, Step)];

    /// <summary>How many samples the two can share at best.</summary>
    public static int MostShared(IReadOnlyList<SlotHistory> histories, LightTrace trace)
    {
        double captured = histories.Max(history => history.Samples) / (double)SlotHistory.RatePerSecond;
        double length = (trace.Last - trace.First).TotalSeconds;
        double first = (trace.First - histories[0].Start).TotalSeconds;
        double early = Math.Min(0, captured - length);
        double late = Math.Max(0, captured - length);
        double place = first < early ? Math.Min(first + trace.Clock.ErrorSeconds, early) : first > late ? Math.Max(first - trace.Clock.ErrorSeconds, late) : first;
        double shared = Math.Min(captured, place + length) - Math.Max(0, place);
        return (int)Math.Max(0, (shared * SlotHistory.RatePerSecond) + 1);
    }

    public static LocateResult Run(LocateQuestion question)
    {
        LightTrace trace = question.Trace!;
        Timestamp start = question.Histories[0].Start;
        (double[] scores, double from) = Scores(question);
        int open = Math.Max(1, (int)(scores.Count(score => score >= 0) / PerSecond / 0.5));
        LocateResult? best = null;
        LocateResult? other = null;
        foreach (double moment in Peaks(scores, from))
        {
            // The time at which the trace's first reading lies, from the start of the capture.
            double shift = moment + UsualDelay - (trace.First - start).TotalSeconds;
            LocateQuestion moved = question with { Trace = trace.Shifted(Duration.FromSeconds(shift)) };
            if (LocateInference.Overlap(moved.Histories, moved.Trace) < LocateInference.FewestSamples)
            {
                continue;
            }

            LocateResult result = LocateInference.OnOneClock(moved, open) with { ClockShiftSeconds = shift };
            if (best is null || Likelihood(result) > Likelihood(best))
            {
                (best, other) = (result, best ?? other);
            }
            else if (other is null || Likelihood(result) > Likelihood(other))
            {
                other = result;
            }
        }

        if (best is null)
        {
            throw new ArgumentException("the trace and the capture share too little time", nameof(question));
        }

        bool same = other?.Best is { } second && best.ClassMembers.Any(member => member.Hypothesis == second.Hypothesis);
        bool leads = other is null || same || Likelihood(best) - Likelihood(other) >= LeastLead;
        bool claims = best.Claim is LocateClaim.Found or LocateClaim.Class or LocateClaim.OneOf;
        return claims && !leads ? best with { Claim = LocateClaim.NotEnough, IsStrict = false, Candidates = [] } : best;
    }

    private static double Likelihood(LocateResult result) => result.Best?.LogLikelihood ?? double.NegativeInfinity;

    /// <summary>For each place of the trace's first reading, the best log-likelihood of any hypothesis; -1 where too little is shared.</summary>
    private static (double[] Scores, double From) Scores(LocateQuestion question)
    {
        int captured = question.Histories.Max(history => history.Samples) / Step;
        double[] light = Coarse(question.Trace!);
        double first = (question.Trace!.First - question.Histories[0].Start).TotalSeconds * PerSecond;
        int fewest = (int)Math.Max(LocateInference.FewestSamples / Step, SmallestShare * Math.Min(light.Length, captured));
        double error = question.Trace.Clock.ErrorSeconds * PerSecond;
        int lowest = (int)Math.Ceiling(Math.Max(fewest - light.Length, Math.Max(first - error, -1e9)));
        int highest = (int)Math.Floor(Math.Min(captured - fewest, Math.Min(first + error, 1e9)));
        double[] scores = new double[Math.Max(0, highest - lowest + 1)];
        Array.Fill(scores, -1);
        if (scores.Length == 0)
        {
            return (scores, 0);
        }

        double[] sums = Running(light, value => value);
        double[] squares = Running(light, value => value * value);
        UniverseWindow window = new();
        Prediction prediction = new(1);
        int[] places = [.. Enumerable.Range(0, captured * Step)];
        double[] fine = new double[captured * Step];
        double[] coarse = new double[captured];
        LightReader[] readers = [.. question.Modes.Select(mode => new LightReader(mode))];
        foreach (SlotHistory history in question.Histories)
        {
            window.Load(history, places);
            foreach (LightReader reader in readers)
            {
                for (int address = 1; address <= SlotHistory.SlotCount; address++)
                {
                    if (!reader.Read(window, address, fine.Length, -1, prediction) || prediction.Count < 2 || prediction.Variance() < LocateInference.SmallestVariance)
                    {
                        continue;
                    }

                    prediction.Fill(0, fine);
                    for (int k = 0; k < captured; k++)
                    {
                        coarse[k] = Lanes.Dot(fine.AsSpan(k * Step, Step), Mean);
                    }

                    Raise(scores, lowest, fewest, light, sums, squares, coarse);
                }
            }
        }

        return (scores, lowest / PerSecond);
    }

    private static void Raise(double[] scores, int lowest, int fewest, double[] light, double[] sums, double[] squares, double[] coarse)
    {
        double[] own = Running(coarse, value => value);
        double[] ownSquares = Running(coarse, value => value * value);
        for (int i = 0; i < scores.Length; i++)
        {
            int place = lowest + i;
            int from = Math.Max(0, -place);
            int to = Math.Min(light.Length, coarse.Length - place);
            int count = to - from;
            if (count < fewest)
            {
                continue;
            }

            double x = own[place + to] - own[place + from];
            double y = sums[to] - sums[from];
            double xx = ownSquares[place + to] - ownSquares[place + from] - (x * x / count);
            double yy = squares[to] - squares[from] - (y * y / count);
            if (xx < LocateInference.SmallestVariance * count || yy <= 1e-12)
            {
                scores[i] = Math.Max(scores[i], 0);
                continue;
            }

            double product = Lanes.Dot(light.AsSpan(from, count), coarse.AsSpan(place + from, count)) - (x * y / count);
            double correlation = product <= 0 ? 0 : Math.Min(product * product / (xx * yy), 0.999999);
            scores[i] = Math.Max(scores[i], -0.5 * count * Math.Log(1 - correlation));
        }
    }

    private static List<double> Peaks(double[] scores, double from)
    {
        List<double> peaks = [];
        double[] left = [.. scores];
        while (peaks.Count < Tried && left.Length > 0)
        {
            int best = Array.IndexOf(left, left.Max());
            if (left[best] < 0)
            {
                break;
            }

            peaks.Add(from + (best / PerSecond));
            int width = (int)Math.Ceiling(Apart * PerSecond);
            left.AsSpan(Math.Max(0, best - width), Math.Min(left.Length, best + width + 1) - Math.Max(0, best - width)).Fill(-1);
        }

        return peaks;
    }

    /// <summary>The trace as one level at five samples a second from its first reading; gaps hold the last level.</summary>
    private static double[] Coarse(LightTrace trace)
    {
        double[] sum = new double[(int)((trace.Last - trace.First).TotalSeconds * PerSecond) + 1];
        int[] count = new int[sum.Length];
        for (int i = 0; i < trace.Count; i++)
        {
            int at = (int)((trace.Times[i] - trace.First).TotalSeconds * PerSecond);
            for (int c = 0; c < trace.ChannelCount; c++)
            {
                sum[at] += trace.Channel(c)[i];
            }

            count[at]++;
        }

        double last = 0;
        for (int k = 0; k < sum.Length; k++)
        {
            last = count[k] > 0 ? sum[k] / count[k] : last;
            sum[k] = last;
        }

        return sum;
    }

    private static double[] Running(double[] values, Func<double, double> of)
    {
        double[] sums = new double[values.Length + 1];
        for (int i = 0; i < values.Length; i++)
        {
            sums[i + 1] = sums[i] + of(values[i]);
        }

        return sums;
    }
}
