namespace DmxProbe.Fixtures.Tables;

/// <summary>Finds the names a person may have meant.</summary>
public static class Nearest
{
    /// <summary>
    /// The nearest names by edit distance, at most <paramref name="count"/>; of several as near, those that begin alike first; none that
    /// has little in common.
    /// </summary>
    /// <param name="name">What was written.</param>
    /// <param name="known">What there is.</param>
    /// <param name="count">How many at most.</param>
    public static IReadOnlyList<string> Of(string name, IEnumerable<string> known, int count)
    {
        string wanted = name.ToUpperInvariant();
        return [.. known.Distinct(StringComparer.OrdinalIgnoreCase)
            .Select(candidate => (Name: candidate, Distance: Distance(wanted, candidate.ToUpperInvariant())))
            .Where(pair => pair.Distance <= 1 + (Math.Max(wanted.Length, pair.Name.Length) / 2))
            .OrderBy(pair => pair.Distance).ThenByDescending(pair => Shared(wanted, pair.Name)).ThenBy(pair => pair.Name, StringComparer.Ordinal)
            .Take(count).Select(pair => pair.Name)];
    }

    /// <summary>A sentence part that offers them: <c>did you mean 'LX1-6' or 'LX1-5'?</c>; empty when there is none.</summary>
    /// <param name="names">The names.</param>
    public static string Offer(IReadOnlyList<string> names) => names.Count == 0 ? "" : "did you mean " + string.Join(" or ", names.Select(Shown.Quoted)) + "?";

    /// <summary>How many letters both begin with.</summary>
    private static int Shared(string wanted, string name) => wanted.AsSpan().CommonPrefixLength(name.ToUpperInvariant());

    /// <summary>Levenshtein distance; the names are bounded by the readers.</summary>
    private static int Distance(string a, string b)
    {
        int[] row = new int[b.Length + 1];
        for (int j = 0; j <= b.Length; j++)
        {
            row[j] = j;
        }

        for (int i = 1; i <= a.Length; i++)
        {
            int diagonal = row[0];
            row[0] = i;
            for (int j = 1; j <= b.Length; j++)
            {
                int substituted = diagonal + (a[i - 1] == b[j - 1] ? 0 : 1);
                diagonal = row[j];
                row[j] = Math.Min(substituted, 1 + Math.Min(row[j], row[j - 1]));
            }
        }

        return row[b.Length];
    }
}
