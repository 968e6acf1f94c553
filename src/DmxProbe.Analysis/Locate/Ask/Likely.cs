namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>The likeliest places.</summary>
internal static class Likely
{
    /// <summary>Indices of the likeliest places, the likeliest first; "none of these" is not among them.</summary>
    public static int[] Of(AskPosterior posterior, int count)
    {
        ReadOnlySpan<double> probability = posterior.Span;
        List<(double Weight, int Index)> kept = [];
        double least = 0;
        for (int i = 0; i < posterior.Space.Count; i++)
        {
            if (kept.Count == count && probability[i] <= least)
            {
                continue;
            }

            double weight = probability[i];
            int at = kept.FindIndex(each => each.Weight < weight);
            kept.Insert(at < 0 ? kept.Count : at, (weight, i));
            if (kept.Count > count)
            {
                kept.RemoveAt(count);
            }

            least = kept[^1].Weight;
        }

        return [.. kept.Select(each => each.Index)];
    }
}
