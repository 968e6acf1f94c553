using DmxProbe.Fixtures.FixtureJson;
using DmxProbe.Fixtures.Gdtf;
using DmxProbe.Fixtures.Mvr;
using DmxProbe.Fixtures.Tables;

namespace DmxProbe.Fixtures.Charts;

/// <summary>
/// Reads a chart in any of its forms: GDTF, open fixture data (JSON), or CSV as a person types it. What it is is seen by
/// how it begins, not by its name. Never throws on any bytes.
/// </summary>
public static class ChartFile
{
    /// <summary>Reads a chart.</summary>
    /// <param name="type">Name of the type, as the patch sheet writes it.</param>
    /// <param name="file">The file; read to its end, left open.</param>
    /// <exception cref="IOException">The stream itself fails.</exception>
    public static ChartReading Read(string type, Stream file)
    {
        ArgumentNullException.ThrowIfNull(type);
        ArgumentNullException.ThrowIfNull(file);
        return BoundedBytes.Read(file, GdtfReader.MaxOctets) is byte[] octets ? Read(type, octets) : new ChartReading(null, [TooLong]);
    }

    /// <summary>Reads a chart, or all charts of an MVR file.</summary>
    /// <param name="type">Name of the type, when it is one chart.</param>
    /// <param name="file">The file; read to its end, left open.</param>
    /// <exception cref="IOException">The stream itself fails.</exception>
    public static ChartsReading ReadAll(string type, Stream file)
    {
        ArgumentNullException.ThrowIfNull(type);
        ArgumentNullException.ThrowIfNull(file);
        if (BoundedBytes.Read(file, GdtfReader.MaxOctets) is not byte[] octets)
        {
            return new ChartsReading([], [], [TooLong]);
        }

        if (IsZip(octets) && MvrReader.IsMvr(octets))
        {
            MvrReading scene = MvrReader.Read(octets);
            return scene.Charts.Count > 0
                ? new ChartsReading(scene.Charts, scene.Notes, [])
                : new ChartsReading([], [], scene.Problems.Count > 0 ? scene.Problems : [new TableProblem("this MVR file has no charts in it", 0, "", "GDTF files of its fixtures", "none", "export it with them")]);
        }

        ChartReading reading = Read(type, octets);
        return new ChartsReading(reading.Chart is null ? [] : [reading.Chart], [.. reading.Notes.Select(note => note.ToString())], reading.Problems);
    }

    private static TableProblem TooLong => new("the file is too long", 0, "", "at most 64 MB", "more", "check that it is the right file");

    private static ChartReading Read(string type, byte[] octets)
    {
        if (IsZip(octets))
        {
            return GdtfReader.Read(type, octets, outer: null);
        }

        if (IsJson(octets))
        {
            using MemoryStream json = new(octets, writable: false);
            return FixtureJsonReader.Read(type, json);
        }

        (string text, _) = TextDecoding.Decode(octets);
        using StringReader csv = new(text);
        return ChartReader.Read(type, csv);
    }

    private static bool IsZip(ReadOnlySpan<byte> octets) => octets.StartsWith("PK\u0003\u0004"u8) || octets.StartsWith("PK\u0005\u0006"u8);

    private static bool IsJson(ReadOnlySpan<byte> octets)
    {
        octets = octets.StartsWith("\uFEFF"u8) ? octets[3..] : octets;
        return octets.TrimStart(" \t\r\n"u8).StartsWith("{"u8);
    }
}
