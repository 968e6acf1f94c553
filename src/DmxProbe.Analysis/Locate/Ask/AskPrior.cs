namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>What is likely before any evidence: the sheet and known human errors over an even floor.</summary>
public static class AskPrior
{
    /// <summary>Chance that the light reads nothing of what was captured.</summary>
    public const double None = 0.02;

    // As for traces: the share spread over everything. An error may count more than there (e^6): what an eye tells is modelled
    // with its errors, so nothing is claimed on the strength of the list alone.
    private const double Floor = 0.14;
    private const double MostNats = 9;

    /// <summary>Share of the lights at a likely address that are in another mode than the one supposed there.</summary>
    private const double OtherMode = 0.1;

    /// <summary>The prior of every place and of "none of these"; sums to 1.</summary>
    /// <param name="space">The places.</param>
    /// <param name="likely">Places that the sheet or a human error makes likely, with weights above 0; empty = all alike.</param>
    public static double[] Of(AskSpace space, IReadOnlyList<(AskPlace Place, double Weight)> likely)
    {
        ArgumentNullException.ThrowIfNull(space);
        ArgumentNullException.ThrowIfNull(likely);
        double[] prior = new double[space.Count + 1];
        double sum = Math.Max(likely.Sum(each => each.Weight), 1e-12);
        double floor = (likely.Count > 0 ? Floor : 1) / space.Count;
        Array.Fill(prior, floor);
        foreach ((AskPlace place, double weight) in likely)
        {
            // Two errors at once are rarer than one, but no rarity: address and mode are set in the same menu.
            int others = space.Modes.Count - 1;
            for (int m = 0; m < space.Modes.Count; m++)
            {
                double share = m == place.Mode ? others > 0 ? 1 - OtherMode : 1 : OtherMode / others;
                prior[space.IndexOf(place with { Mode = m })] += (1 - Floor) * share * weight / sum;
            }
        }

        double all = 0;
        for (int i = 0; i < space.Count; i++)
        {
            prior[i] = Math.Min(prior[i], floor * Math.Exp(MostNats));
            all += prior[i];
        }

        for (int i = 0; i < space.Count; i++)
        {
            prior[i] *= (1 - None) / all;
        }

        prior[^1] = None;
        return prior;
    }
}
