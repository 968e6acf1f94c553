using System.Text.Json;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Tables;

namespace DmxProbe.Fixtures.FixtureJson;

/// <summary>
/// Reads the chart of one fixture type from open fixture data (JSON): modes, capabilities, low bytes, matrix pixels and
/// switching channels. Never throws on any bytes; what it does not understand is unknown, and said verbatim.
/// </summary>
public static class FixtureJsonReader
{
    /// <summary>Largest file, in octets.</summary>
    public const int MaxOctets = 16 * 1024 * 1024;

    private const int MaxModes = 500;
    private const int MaxDepth = 64;

    /// <summary>Reads a chart.</summary>
    /// <param name="type">Name of the type, as the patch sheet writes it.</param>
    /// <param name="file">The file; read to its end, left open.</param>
    /// <exception cref="IOException">The stream itself fails.</exception>
    public static ChartReading Read(string type, Stream file)
    {
        ArgumentNullException.ThrowIfNull(type);
        ArgumentNullException.ThrowIfNull(file);
        if (BoundedBytes.Read(file, MaxOctets) is not byte[] octets)
        {
            return Refused("the file is too long", 0, "at most 16 MB", "more");
        }

        ReadOnlyMemory<byte> text = octets.AsSpan().StartsWith((ReadOnlySpan<byte>)[0xEF, 0xBB, 0xBF]) ? octets.AsMemory(3) : octets;
        try
        {
            using JsonDocument document = JsonDocument.Parse(text, new JsonDocumentOptions { MaxDepth = MaxDepth });
            return Read(type, document.RootElement);
        }
        catch (JsonException broken)
        {
            return Refused("this is not whole JSON", (int)Math.Min((broken.LineNumber ?? 0) + 1, int.MaxValue), "open fixture data (JSON)", "");
        }
    }

    private static ChartReading Read(string type, JsonElement fixture)
    {
        JsonChannels channels = new(fixture, new JsonPixels(fixture.Get("matrix")));
        JsonElement[] modes = [.. fixture.Get("modes").Members().Take(MaxModes)];
        if (!channels.Any || modes.Length == 0)
        {
            return Refused("there is no fixture in this file", 0, "open fixture data (JSON) with channels and modes", channels.Any ? "no modes" : "no channels");
        }

        JsonMode reading = new(channels);
        List<ChartMode> built = [];
        ProblemList notes = new();
        HashSet<string> taken = new(StringComparer.OrdinalIgnoreCase);
        int rows = 0;
        foreach (JsonElement mode in modes)
        {
            string said = mode.Get("name").Text() is { Length: > 0 } name ? name : mode.Get("shortName").Text();
            string shown = CellText.Fit(said, ChartReader.MaxName - 6) is { Length: > 0 } fit ? fit : "unnamed";
            IReadOnlyList<string>? names = reading.Names(mode);
            if (names is not { Count: > 0 })
            {
                notes.Add(new TableProblem($"mode {Shown.Quoted(shown)} is left out", 0, "", "1 to 512 slots", names is null ? "more" : "none", "correct the mode in the file when it is needed"));
                continue;
            }

            ChartMode whole = new(Unique(shown, taken), reading.Slots(names), names.Count);
            rows += whole.Slots.Sum(slot => Math.Max(slot.Exact.Count, slot.Ranges.Count));
            if (rows > ChartReader.MaxRows)
            {
                return Refused("the chart is too long", 0, "at most 100,000 ranges", "more");
            }

            built.Add(whole);
        }

        return built.Count == 0
            ? Refused("no mode of this fixture can be used", 0, "modes of 1 to 512 slots", notes.Any ? "more or fewer in each" : "none")
            : new ChartReading(new Chart(type, built), []) { Notes = notes.Problems };
    }

    private static string Unique(string name, HashSet<string> taken)
    {
        string unique = name;
        for (int i = 2; !taken.Add(unique); i++)
        {
            unique = $"{name} ({Shown.Number(i)})";
        }

        return unique;
    }

    private static ChartReading Refused(string what, int line, string expected, string found) =>
        new(null, [new TableProblem(what, line, "", expected, found, "check that it is the right file and that it is whole")]);
}
