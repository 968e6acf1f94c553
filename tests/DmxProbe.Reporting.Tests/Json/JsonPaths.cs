using System.Text.Json;

namespace DmxProbe.Reporting.Tests.Json;

/// <summary>The paths of a JSON page: <c>universes[].senders[].rateHz</c>; names that are numbers count as <c>N</c>.</summary>
internal static class JsonPaths
{
    public static SortedSet<string> Of(string json)
    {
        SortedSet<string> paths = new(StringComparer.Ordinal);
        using JsonDocument document = JsonDocument.Parse(json);
        Walk(document.RootElement, "", paths);
        return paths;
    }

    private static void Walk(JsonElement element, string path, SortedSet<string> paths)
    {
        if (element.ValueKind == JsonValueKind.Array)
        {
            foreach (JsonElement item in element.EnumerateArray())
            {
                Walk(item, path, paths);
            }
        }
        else if (element.ValueKind == JsonValueKind.Object)
        {
            foreach (JsonProperty property in element.EnumerateObject())
            {
                string name = int.TryParse(property.Name, out _) ? "N" : property.Name;
                string list = property.Value.ValueKind == JsonValueKind.Array ? "[]" : "";
                string full = path.Length == 0 ? name + list : $"{path}.{name}{list}";
                paths.Add(full);
                Walk(property.Value, full, paths);
            }
        }
    }
}
