using System.Text;

namespace DmxProbe.Tui;

/// <summary>The large keys of a guided screen: boxes where there is room, else one row for several.</summary>
internal static class BigKeys
{
    private const int BoxRows = 3;
    private const int Gap = 2;

    /// <summary>The rows of the keys, and where on them each can be clicked (row from 0, columns from and to).</summary>
    /// <param name="keys">The keys, the likeliest answer first.</param>
    /// <param name="width">Columns.</param>
    /// <param name="most">Rows there are at most.</param>
    public static (IReadOnlyList<ScreenRow> Rows, IReadOnlyList<(int Row, int From, int To, ScreenKey Key)> Places) Of(IReadOnlyList<BigKey> keys, int width, int most)
    {
        List<List<BigKey>> often = Lines([.. keys.Where(key => !key.IsRare)], width);
        List<List<BigKey>> rare = Lines([.. keys.Where(key => key.IsRare)], width);
        bool boxes = (often.Count * BoxRows) + rare.Count <= most;
        List<ScreenRow> rows = [];
        List<(int, int, int, ScreenKey)> places = [];
        foreach ((List<BigKey> line, bool boxed) in often.Select(line => (line, boxes)).Concat(rare.Select(line => (line, false))))
        {
            StringBuilder edges = new(), middle = new();
            foreach (BigKey key in line)
            {
                int from = middle.Length + 1;
                edges.Append($" +{new string('-', key.Name.Length + 2)}+ ").Append(' ', key.Says.Length + Gap);
                middle.Append(boxed ? $" | {key.Name} | " : $" [ {key.Name} ] ").Append(key.Says).Append(' ', Gap);
                for (int row = 0; row < (boxed ? BoxRows : 1); row++)
                {
                    places.Add((rows.Count + row, from, middle.Length - Gap, key.Key));
                }
            }

            rows.AddRange(boxed ? [Row(edges), Row(middle), Row(edges)] : [Row(middle)]);
        }

        return ([.. rows.Take(most)], [.. places.Where(place => place.Item1 < most)]);
    }

    private static ScreenRow Row(StringBuilder text) => new(text.ToString().TrimEnd(), Tint.Key);

    private static List<List<BigKey>> Lines(IReadOnlyList<BigKey> keys, int width)
    {
        List<List<BigKey>> lines = [];
        int used = width;
        foreach (BigKey key in keys)
        {
            int needs = key.Name.Length + key.Says.Length + 6 + Gap;
            if (used + needs - Gap > width || lines.Count == 0)
            {
                lines.Add([]);
                used = 0;
            }

            lines[^1].Add(key);
            used += needs;
        }

        return lines;
    }
}
