namespace DmxProbe.Analysis.Locate;

/// <summary>Likelihood and prior together.</summary>
internal static class Posteriors
{
    /// <summary>Share of the prior spread evenly over everything.</summary>
    private const double Floor = 0.14;

    /// <summary>The most that a human error may count, nats: it may never outvote the light.</summary>
    private const double MostNats = 6;

    /// <summary>Sets the posterior of each.</summary>
    /// <param name="standings">All that change.</param>
    /// <param name="prior">Human errors.</param>
    /// <param name="reports">What RDM devices say.</param>
    /// <param name="everything">How many hypotheses there are, also those that do not change.</param>
    /// <param name="correlated">Samples that stand for one independent one.</param>
    public static void Set(IReadOnlyList<Standing> standings, IReadOnlyList<PriorCandidate> prior, IReadOnlyList<LocateReport> reports, int everything, double correlated)
    {
        Dictionary<Hypothesis, double> weights = [];
        foreach (PriorCandidate candidate in prior)
        {
            weights[candidate.Hypothesis] = weights.GetValueOrDefault(candidate.Hypothesis) + candidate.Weight;
        }

        double sum = Math.Max(weights.Values.Sum(), 1e-12);
        double floor = Floor / Math.Max(everything, 1);
        double top = double.NegativeInfinity;
        foreach (Standing standing in standings)
        {
            double share = weights.GetValueOrDefault(standing.Hypothesis) / sum * (1 - Floor);
            double nats = Math.Min(Math.Log((share + floor) / floor), MostNats);
            standing.ReportNats = reports.Sum(report => report.Nats(standing.Hypothesis, everything));
            standing.Posterior = (standing.LogLikelihood / correlated) + nats + standing.ReportNats + standing.Also;
            top = Math.Max(top, standing.Posterior);
        }

        double total = 0;
        foreach (Standing standing in standings)
        {
            standing.Posterior = Math.Exp(standing.Posterior - top);
            total += standing.Posterior;
        }

        foreach (Standing standing in standings)
        {
            standing.Posterior /= total;
        }
    }
}
