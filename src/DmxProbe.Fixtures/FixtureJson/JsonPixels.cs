using System.Text.Json;

namespace DmxProbe.Fixtures.FixtureJson;

/// <summary>The pixels of a fixture and their order: names, order and defaults as the data set defines them (from memory).</summary>
internal sealed class JsonPixels
{
    /// <summary>Most pixels of one fixture.</summary>
    public const int Max = 4096;

    private readonly List<(string Name, int X, int Y, int Z)> _pixels = [];
    private readonly HashSet<string> _names = new(StringComparer.Ordinal);

    public JsonPixels(JsonElement? matrix)
    {
        if (matrix?.Get("pixelKeys") is { ValueKind: JsonValueKind.Array } keys)
        {
            Named(keys);
        }
        else
        {
            Counted([.. (matrix?.Get("pixelCount")).Members().Select(member => ((JsonElement?)member).Whole() ?? 0)]);
        }

        Groups = [.. (matrix?.Get("pixelGroups")).Properties().Select(group => group.Name).Where(name => name.Length > 0).Take(Max)];
        _names.UnionWith(_pixels.Select(pixel => pixel.Name));
        _names.UnionWith(Groups);
    }

    /// <summary>Names of the groups, in the order of the file.</summary>
    public IReadOnlyList<string> Groups { get; }

    /// <summary>Whether a pixel or a group has this name.</summary>
    public bool Has(string name) => _names.Contains(name);

    /// <summary>The pixels in the order a mode asks for; null when it is none.</summary>
    public IReadOnlyList<string>? InOrder(string order)
    {
        if (order == "eachPixelGroup")
        {
            return Groups;
        }

        if (order == "eachPixelABC")
        {
            return [.. _pixels.Select(pixel => pixel.Name).OrderBy(name => int.TryParse(name, out int number) ? number : int.MaxValue).ThenBy(name => name, StringComparer.Ordinal)];
        }

        const string Each = "eachPixel";
        if (!order.StartsWith(Each, StringComparison.Ordinal) || order.Length != Each.Length + 3 || order[Each.Length..].Distinct().Count() != 3 || order[Each.Length..].Any(axis => axis is not ('X' or 'Y' or 'Z')))
        {
            return null;
        }

        // The first axis named runs fastest.
        return [.. _pixels.OrderBy(pixel => Along(pixel, order[^1])).ThenBy(pixel => Along(pixel, order[^2])).ThenBy(pixel => Along(pixel, order[^3])).Select(pixel => pixel.Name)];
    }

    private static int Along((string Name, int X, int Y, int Z) pixel, char axis) => axis switch
    {
        'X' => pixel.X,
        'Y' => pixel.Y,
        _ => pixel.Z,
    };

    private void Named(JsonElement keys)
    {
        int z = 0;
        foreach (JsonElement layer in keys.EnumerateArray())
        {
            int y = 0;
            foreach (JsonElement row in ((JsonElement?)layer).Members())
            {
                int x = 0;
                foreach (JsonElement pixel in ((JsonElement?)row).Members())
                {
                    string name = ((JsonElement?)pixel).Text();
                    if (name.Length > 0 && _pixels.Count < Max)
                    {
                        _pixels.Add((name, x, y, z));
                    }

                    x++;
                }

                y++;
            }

            z++;
        }
    }

    private void Counted(long[] count)
    {
        if (count is not [>= 1 and <= Max, >= 1 and <= Max, >= 1 and <= Max] || count[0] * count[1] * count[2] > Max)
        {
            return;
        }

        bool[] used = [.. count.Select(along => along > 1)];
        for (int z = 0; z < count[2]; z++)
        {
            for (int y = 0; y < count[1]; y++)
            {
                for (int x = 0; x < count[0]; x++)
                {
                    int[] at = [x + 1, y + 1, z + 1];
                    string[] named = [.. at.Where((_, axis) => used[axis]).Select(place => JsonReaderNumbers.Number(place))];
                    _pixels.Add((named.Length switch { 0 => "1", 1 => named[0], _ => $"({string.Join(", ", named)})" }, x, y, z));
                }
            }
        }
    }
}
