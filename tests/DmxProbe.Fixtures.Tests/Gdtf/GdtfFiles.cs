using System.Globalization;
using System.IO.Compression;
using System.Text;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Gdtf;

namespace DmxProbe.Fixtures.Tests.Gdtf;

/// <summary>GDTF files made by hand.</summary>
internal static class GdtfFiles
{
    public const string Body = "<Geometry Name=\"Body\"/>";

    /// <summary>A description with modes and geometries given as XML.</summary>
    public static string Description(string modes, string geometries = Body, string version = "1.2") =>
        $"<?xml version=\"1.0\" encoding=\"UTF-8\"?><GDTF DataVersion=\"{version}\"><FixtureType Name=\"x\"><AttributeDefinitions><Attributes>" +
        "<Attribute Name=\"Shutter1Strobe\" PhysicalUnit=\"Frequency\"/></Attributes></AttributeDefinitions><Wheels><Wheel Name=\"W\"><Slot Name=\"Open\"/><Slot Name=\"Dots\"/></Wheel></Wheels>" +
        $"<Models><Model Name=\"m\"/></Models><Geometries>{geometries}</Geometries><DMXModes>{modes}</DMXModes></FixtureType></GDTF>";

    public static string Mode(string channels, string name = "M") => $"<DMXMode Name=\"{name}\" Geometry=\"Body\"><DMXChannels>{channels}</DMXChannels><Relations/></DMXMode>";

    /// <summary>A channel of one logical channel; functions as XML, or one that says only its attribute.</summary>
    public static string Channel(string offset, string attribute, string functions = "", string geometry = "Body", string dmxBreak = "1", string more = "") =>
        $"<DMXChannel DMXBreak=\"{dmxBreak}\" Offset=\"{offset}\" Geometry=\"{geometry}\" {more}><LogicalChannel Attribute=\"{attribute}\">" +
        (functions.Length > 0 ? functions : Function(attribute)) + "</LogicalChannel></DMXChannel>";

    public static string Function(string attribute, string from = "0/1", string sets = "", string more = "") =>
        $"<ChannelFunction Attribute=\"{attribute}\" DMXFrom=\"{from}\" {more}>{sets}</ChannelFunction>";

    public static string Set(string name, string from, string more = "") => $"<ChannelSet Name=\"{name}\" DMXFrom=\"{from}\" {more}/>";

    public static byte[] Zip(params (string Name, string Text)[] entries)
    {
        using MemoryStream file = new();
        using (ZipArchive zip = new(file, ZipArchiveMode.Create, leaveOpen: true))
        {
            foreach ((string name, string text) in entries)
            {
                using Stream entry = zip.CreateEntry(name).Open();
                entry.Write(Encoding.UTF8.GetBytes(text));
            }
        }

        return file.ToArray();
    }

    public static byte[] File(string description) => Zip(("description.xml", description));

    public static ChartReading Read(byte[] octets)
    {
        using MemoryStream file = new(octets, writable: false);
        return GdtfReader.Read("x", file);
    }

    /// <summary>The one mode of a fixture type with these channels, without notes.</summary>
    public static ChartMode ModeOf(string channels, string geometries = Body)
    {
        ChartReading reading = Read(File(Description(Mode(channels), geometries)));
        Assert.Empty(reading.Problems);
        Assert.Empty(reading.Notes);
        return Assert.Single(reading.Chart!.Modes);
    }

    /// <summary>What a chart says about a value, in one line: <c>0-127 a Proportional</c>.</summary>
    public static string[] Ranges(ChartSlot slot) => slot.Exact.Count > 0
        ? [.. slot.Exact.Select(range => string.Create(CultureInfo.InvariantCulture, $"{range.From}-{range.To} {range.Meaning} {range.Effect}"))]
        : [.. slot.Ranges.Select(range => string.Create(CultureInfo.InvariantCulture, $"{range.From}-{range.To} {range.Meaning} {range.Effect}"))];
}
