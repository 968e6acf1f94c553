using System.Globalization;
using System.IO.Compression;
using System.Text.Json;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Files;

namespace DmxProbe.Analysis.Tests.Decoding;

/// <summary>
/// The fields that tshark 4.0.17, a general dissector, read in the recordings: an independent reference. It does not
/// decode E1.31 synchronization and discovery, and it gives no slots for E1.31 packets of fewer than 6 slots.
/// </summary>
internal static class DissectorReference
{
    private const int DataPacketVector = 2;

    /// <summary>The file of a recording's fields, or null where the shared recordings are absent.</summary>
    public static string? PathOf(string capture) =>
        Places.SharedFile("captures", "net", "reference", capture + ".tshark.json.gz");

    /// <summary>The frames of a file, and how many packets of every kind it lists.</summary>
    public static (IReadOnlyList<DissectedFrame> Frames, int Packets) Read(string path)
    {
        using FileStream file = File.OpenRead(path);
        using GZipStream unpacked = new(file, CompressionMode.Decompress);
        using JsonDocument document = JsonDocument.Parse(unpacked);
        List<DissectedFrame> frames = [];
        foreach (JsonElement packet in document.RootElement.EnumerateArray())
        {
            JsonElement layers = packet.GetProperty("_source").GetProperty("layers");
            if (layers.TryGetProperty("artnet", out JsonElement artNet)
                && artNet.TryGetProperty("artnet.output", out JsonElement output))
            {
                frames.Add(ArtDmx(layers, output));
            }
            else if (layers.TryGetProperty("acn", out JsonElement acn))
            {
                frames.Add(SacnData(layers, acn.GetProperty("acn.pdu")));
            }
        }

        return (frames, document.RootElement.GetArrayLength());
    }

    private static DissectedFrame ArtDmx(JsonElement layers, JsonElement output) => new()
    {
        Record = Number(layers.GetProperty("frame"), "frame.number"),
        Time = Time(layers),
        Universe = new UniverseId(UniverseProtocol.ArtNet, Number(output, "artnet.output.universe")),
        Address = Text(layers.GetProperty("ip"), "ip.src"),
        Sequence = Number(output, "artnet.output.sequence"),
        Physical = Number(output, "artnet.output.physical"),
        StatedSlots = Number(output, "artnet.output.length"),
        Slots = layers.GetProperty("dmx_chan").TryGetProperty("dmx_chan.data_filter", out JsonElement data)
            ? Convert.FromHexString(data.GetString()!.Replace(":", "", StringComparison.Ordinal))
            : null,
    };

    private static DissectedFrame SacnData(JsonElement layers, JsonElement root)
    {
        JsonElement framing = root.GetProperty("acn.pdu");
        JsonElement dmp = framing.GetProperty("acn.pdu");
        Assert.Equal(DataPacketVector, Number(framing, "acn.dmx_vector"));
        Assert.Equal(0, Number(dmp, "acn.dmx.start_code2"));
        return new DissectedFrame
        {
            Record = Number(layers.GetProperty("frame"), "frame.number"),
            Time = Time(layers),
            Universe = new UniverseId(UniverseProtocol.Sacn, Number(framing, "acn.dmx.universe")),
            Address = Text(layers.GetProperty("ip"), "ip.src"),
            Sequence = Number(framing, "acn.dmx.seq_number"),
            Priority = Number(framing, "acn.dmx.priority"),
            SyncAddress = Number(framing, "acn.dmx.reserved"), // its name of 2009 for octets 109 and 110
            Options = Number(framing, "acn.dmx.options"),
            Cid = Text(root, "acn.cid"),
            Name = Text(framing, "acn.dmx.source_name"),
            StatedSlots = Number(dmp, "acn.dmx.count") - 1,
            Slots = dmp.TryGetProperty("acn.dmx.data", out JsonElement rows) ? Levels(rows) : null,
        };
    }

    // Rows of 20 values behind a heading: "001-020: FF .. 80 | ..", two places each, ".." for 0.
    private static byte[] Levels(JsonElement rows) =>
    [
        .. rows.EnumerateArray().Skip(1)
            .SelectMany(row => row.GetString()!.Split(':')[1].Split(' ', StringSplitOptions.RemoveEmptyEntries))
            .Where(value => value != "|")
            .Select(value => value == ".." ? (byte)0 : byte.Parse(value, NumberStyles.HexNumber, CultureInfo.InvariantCulture)),
    ];

    private static Timestamp Time(JsonElement layers)
    {
        string[] parts = Text(layers.GetProperty("frame"), "frame.time_epoch").Split('.');
        Assert.Equal(9, parts[1].Length);
        return Timestamp.FromUnixNanoseconds(long.Parse(parts[0] + parts[1], CultureInfo.InvariantCulture));
    }

    private static int Number(JsonElement element, string name) =>
        int.Parse(Text(element, name), CultureInfo.InvariantCulture);

    private static string Text(JsonElement element, string name) => element.GetProperty(name).GetString()!;
}
