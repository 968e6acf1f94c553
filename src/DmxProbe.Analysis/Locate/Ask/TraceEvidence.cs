using System.Globalization;

namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>A measured light as evidence about every place: what the inference on the trace found, hypothesis by hypothesis.</summary>
public static class TraceEvidence
{
    /// <summary>Takes over the log-likelihoods; places that never change count as "no own light".</summary>
    /// <param name="space">The places.</param>
    /// <param name="histories">What the inference was told was captured.</param>
    /// <param name="result">What it found, of the trace alone.</param>
    public static AskEvidence Of(AskSpace space, IReadOnlyList<SlotHistory> histories, LocateResult result)
    {
        ArgumentNullException.ThrowIfNull(space);
        ArgumentNullException.ThrowIfNull(histories);
        ArgumentNullException.ThrowIfNull(result);
        double[] likelihood = new double[space.Count + 1];
        int[] senders = [.. histories.Select(history => histories.Count(other => other.Universe == history.Universe))];
        Dictionary<int, double> tops = [];
        foreach (HypothesisNats each in result.Likelihoods)
        {
            if (IndexOf(space, histories, each.Hypothesis) is int index)
            {
                tops[index] = tops.TryGetValue(index, out double known) ? Both(known, each.Nats - Math.Log(senders[each.Hypothesis.History])) : each.Nats - Math.Log(senders[each.Hypothesis.History]);
            }
        }

        foreach ((int index, double nats) in tops)
        {
            likelihood[index] = nats;
        }

        string text = string.Create(CultureInfo.InvariantCulture, $"the trace, {(result.Fit?.Samples ?? 0) / (double)SlotHistory.RatePerSecond:0} s of measured light");
        return AskEvidence.OfNats(AskEvidenceKind.Trace, text, null, likelihood);
    }

    /// <summary>The place of a hypothesis, or null where its universe is not in the space.</summary>
    internal static int? IndexOf(AskSpace space, IReadOnlyList<SlotHistory> histories, Hypothesis hypothesis)
    {
        for (int u = 0; u < space.Universes.Count; u++)
        {
            if (space.Universes[u] == histories[hypothesis.History].Universe)
            {
                return space.IndexOf(new AskPlace(u, hypothesis.Address, hypothesis.Mode));
            }
        }

        return null;
    }

    private static double Both(double first, double second)
    {
        double top = Math.Max(first, second);
        return top + Math.Log(Math.Exp(first - top) + Math.Exp(second - top));
    }
}
