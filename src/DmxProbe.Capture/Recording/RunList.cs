using System.Text.Json;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Capture.Recording;

/// <summary>The list that a run of the recorder keeps of its segments: RUN.run.json in the folder (docs/formats.md).</summary>
internal sealed class RunList(string path, RecorderSettings settings, Timestamp started)
{
    /// <summary>Ends the name of a list.</summary>
    public const string Suffix = ".run.json";

    private const int LongestFile = 4 * 1024 * 1024;
    private const int MostSegments = 16_384;

    /// <summary>Its path.</summary>
    public string Path { get; } = path;

    /// <summary>The segments, oldest first; those that the ring deleted are taken off.</summary>
    public List<RunSegment> Segments { get; } = [];

    /// <summary>When the run ended as it should; null while it runs, and for ever where it was killed.</summary>
    public Timestamp? Ended { get; set; }

    /// <summary>Segments deleted by the ring.</summary>
    public int Deleted { get; set; }

    /// <summary>Writes the list.</summary>
    /// <exception cref="IOException">It cannot be written.</exception>
    public void Save()
    {
        using MemoryStream page = new();
        using (Utf8JsonWriter json = new(page, new JsonWriterOptions { Indented = true }))
        {
            json.WriteStartObject();
            json.WriteNumber("schema", 1);
            json.WriteString("program", settings.Application);
            json.WriteString("started", started.ToString());
            json.WriteString("ended", Ended?.ToString());
            json.WriteStartArray("inputs");
            foreach (string input in settings.Inputs)
            {
                json.WriteStringValue(input);
            }

            json.WriteEndArray();
            if (settings.Ring is Duration ring)
            {
                json.WriteNumber("ringSeconds", ring.TotalSeconds);
                json.WriteNumber("deleted", Deleted);
            }

            json.WriteStartArray("segments");
            foreach (RunSegment segment in Segments)
            {
                json.WriteStartObject();
                json.WriteString("name", segment.Name);
                json.WriteString("saved", segment.SavedFor);
                json.WriteNumber("octets", segment.Octets);
                json.WriteEndObject();
            }

            json.WriteEndArray();
            json.WriteEndObject();
        }

        WholeFile.Write(Path, page.GetBuffer().AsSpan(0, (int)page.Length));
    }

    /// <summary>What stands on a list, untrusted; null where it is none.</summary>
    public static RunListing? TryRead(string path)
    {
        try
        {
            FileInfo file = new(path);
            if (file.LinkTarget is not null || file.Length > LongestFile)
            {
                return null;
            }

            byte[] bytes = new byte[file.Length];
            using FileStream stream = file.OpenRead();
            stream.ReadExactly(bytes);
            using JsonDocument page = JsonDocument.Parse(bytes, new JsonDocumentOptions { MaxDepth = 8 });
            List<string> names = [];
            foreach (JsonElement segment in page.RootElement.GetProperty("segments").EnumerateArray())
            {
                if (names.Count == MostSegments)
                {
                    return null;
                }

                names.Add(segment.GetProperty("name").GetString() ?? "");
            }

            string started = page.RootElement.TryGetProperty("started", out JsonElement said) ? said.GetString() ?? "" : "";
            bool isEnded = page.RootElement.TryGetProperty("ended", out JsonElement ended) && ended.ValueKind == JsonValueKind.String;
            return new RunListing(names, started, isEnded);
        }
        catch (Exception failure)
            when (failure is IOException or UnauthorizedAccessException or JsonException or InvalidOperationException or KeyNotFoundException)
        {
            return null;
        }
    }
}
