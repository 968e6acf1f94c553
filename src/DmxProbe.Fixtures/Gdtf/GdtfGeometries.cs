using System.Globalization;

namespace DmxProbe.Fixtures.Gdtf;

/// <summary>Finds where the geometries of a mode are, references followed.</summary>
internal static class GdtfGeometries
{
    private const int MaxInstances = 4096;
    private const int MaxReferences = 8;

    /// <summary>All places of all geometries below the top one of a mode, by name.</summary>
    /// <param name="geometries">The element Geometries; null when there is none.</param>
    /// <param name="top">Name of the mode's geometry.</param>
    public static Dictionary<string, List<GdtfInstance>> Of(GdtfNode? geometries, string top)
    {
        Dictionary<string, List<GdtfInstance>> found = [];
        if (geometries?.Children.FirstOrDefault(node => node["Name"] == top) is { } root)
        {
            int left = MaxInstances;
            Walk(geometries, root, root["Name"] ?? "", new GdtfInstance(root["Name"] ?? "", "", []), found, ref left);
        }

        return found;
    }

    private static void Walk(GdtfNode geometries, GdtfNode node, string name, GdtfInstance here, Dictionary<string, List<GdtfInstance>> found, ref int left)
    {
        if (left-- <= 0)
        {
            return;
        }

        found.TryAdd(name, []);
        found[name].Add(here);
        foreach (GdtfNode child in node.Children)
        {
            string childName = child["Name"] ?? "";
            if (child.Name != "GeometryReference")
            {
                if (child.Name is not ("Break" or "PinPatch" or "Protocol"))
                {
                    Walk(geometries, child, childName, here with { Path = here.Path + "\n" + childName }, found, ref left);
                }
            }
            else if (here.References.Count < MaxReferences && geometries.Children.FirstOrDefault(node => node["Name"] == child["Geometry"]) is { } target)
            {
                GdtfInstance inside = new(here.Path + "\n" + childName, childName, [Breaks(child), .. here.References]);
                Walk(geometries, target, target["Name"] ?? "", inside, found, ref left);
            }
        }
    }

    private static List<GdtfBreak> Breaks(GdtfNode reference) =>
        [.. reference.All("Break").Select(node => new GdtfBreak((int)Number(node["DMXBreak"]), Address(node["DMXOffset"])))];

    // DMXAddress (GDTF table 1): an absolute number, or universe.address.
    private static long Address(string? text)
    {
        int point = text?.IndexOf('.', StringComparison.Ordinal) ?? -1;
        return point < 0 ? Number(text) : ((Number(text![..point]) - 1) * 512) + Number(text[(point + 1)..]);
    }

    private static long Number(string? text) => int.TryParse(text, NumberStyles.AllowLeadingWhite | NumberStyles.AllowTrailingWhite, CultureInfo.InvariantCulture, out int number) ? number : 1;
}
