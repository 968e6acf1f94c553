using System.Globalization;
using System.Text;

namespace DmxProbe.Capture.Live;

/// <summary>Universe numbers as people write them: <c>1-4,7</c>.</summary>
public static class UniverseRanges
{
    /// <summary>Reads a list such as <c>1-4,7</c>.</summary>
    /// <param name="text">The list.</param>
    /// <param name="lowest">Lowest number allowed.</param>
    /// <param name="highest">Highest number allowed.</param>
    /// <param name="most">Most numbers allowed.</param>
    /// <param name="problem">What is wrong with it: expected and found; empty when nothing.</param>
    /// <returns>The numbers rising, each once; empty when refused.</returns>
    public static IReadOnlyList<int> Parse(string text, int lowest, int highest, int most, out string problem)
    {
        ArgumentNullException.ThrowIfNull(text);
        SortedSet<int> numbers = [];
        problem = "";
        foreach (string part in text.Split(','))
        {
            string[] ends = part.Split('-');
            if (ends.Length > 2 || Number(ends[0]) is not int from || Number(ends[^1]) is not int to || from < lowest || to > highest || from > to)
            {
                problem = string.Create(CultureInfo.InvariantCulture, $"expected universes from {lowest} to {highest} such as 1-4,7, found '{part}'");
                return [];
            }

            if (numbers.Count + (to - from + 1) > most)
            {
                problem = string.Create(CultureInfo.InvariantCulture, $"expected at most {most:N0} universes, found more at '{part}'");
                return [];
            }

            numbers.UnionWith(Enumerable.Range(from, to - from + 1));
        }

        return [.. numbers];
    }

    /// <summary>Writes numbers as ranges: <c>1-4, 7</c>; long lists end with how many more there are.</summary>
    public static string Text(IEnumerable<int> numbers, int mostRanges = 12)
    {
        StringBuilder text = new();
        List<(int From, int To)> ranges = [];
        foreach (int number in numbers.Order())
        {
            if (ranges.Count > 0 && number - ranges[^1].To <= 1)
            {
                ranges[^1] = (ranges[^1].From, number);
            }
            else
            {
                ranges.Add((number, number));
            }
        }

        foreach ((int from, int to) in ranges.Take(mostRanges))
        {
            string range = from == to ? $"{from}" : $"{from}-{to}";
            text.Append(text.Length > 0 ? ", " : "").Append(range);
        }

        int more = ranges.Skip(mostRanges).Sum(range => range.To - range.From + 1);
        return more > 0 ? text.Append(CultureInfo.InvariantCulture, $" and {more} more").ToString() : text.ToString();
    }

    private static int? Number(string text) =>
        int.TryParse(text.AsSpan().Trim(), NumberStyles.None, CultureInfo.InvariantCulture, out int value) ? value : null;
}
