using System.IO.Compression;
using System.Text;

namespace DmxProbe.Fixtures.Tests.Mvr;

/// <summary>Zip files made by hand for the tests of MVR.</summary>
internal static class MvrFiles
{
    /// <summary>A scene with the elements of one layer.</summary>
    public static string Scene(string children) =>
        $"<?xml version=\"1.0\"?><GeneralSceneDescription verMajor=\"1\" verMinor=\"6\"><Scene><Layers><Layer name=\"L\" uuid=\"1\"><ChildList>{children}</ChildList></Layer></Layers>" +
        "<AUXData><Position name=\"FOH &lt;bar&gt;\" uuid=\"P1\"/></AUXData></Scene></GeneralSceneDescription>";

    /// <summary>A fixture of type dim.</summary>
    public static string Fixture(string name, string id, string mode, params (int Break, string Text)[] addresses) =>
        $"<Fixture name=\"{name}\" uuid=\"u\"><GDTFSpec>dim.gdtf</GDTFSpec><GDTFMode>{mode}</GDTFMode><Position>P1</Position><FixtureID>{id}</FixtureID>" +
        $"<Addresses>{string.Concat(addresses.Select(address => $"<Address break=\"{address.Break}\">{address.Text}</Address>"))}</Addresses></Fixture>";

    /// <summary>A GDTF file with a mode of one break and a mode of two.</summary>
    public static byte[] Gdtf()
    {
        static string Channel(int offset, int number) =>
            $"<DMXChannel DMXBreak=\"{number}\" Offset=\"{offset}\" Geometry=\"Body\"><LogicalChannel Attribute=\"Dimmer\"><ChannelFunction Attribute=\"Dimmer\" DMXFrom=\"0/1\" Name=\"\"/></LogicalChannel></DMXChannel>";
        string xml = "<?xml version=\"1.0\"?><GDTF DataVersion=\"1.2\"><FixtureType Name=\"dim\"><Geometries><Geometry Name=\"Body\"/></Geometries><DMXModes>" +
            $"<DMXMode Name=\"One\" Geometry=\"Body\"><DMXChannels>{Channel(1, 1)}</DMXChannels></DMXMode>" +
            $"<DMXMode Name=\"Two\" Geometry=\"Body\"><DMXChannels>{Channel(1, 1)}{Channel(3, 2)}</DMXChannels></DMXMode></DMXModes></FixtureType></GDTF>";
        return Zip(("description.xml", Encoding.UTF8.GetBytes(xml)));
    }

    /// <summary>An MVR file of a scene and the GDTF file.</summary>
    public static byte[] Mvr(string scene) => Zip(("GeneralSceneDescription.xml", Encoding.UTF8.GetBytes(scene)), ("dim.gdtf", Gdtf()));

    /// <summary>A zip file.</summary>
    public static byte[] Zip(params (string Name, byte[] Octets)[] entries)
    {
        using MemoryStream file = new();
        using (ZipArchive zip = new(file, ZipArchiveMode.Create, leaveOpen: true))
        {
            foreach ((string name, byte[] octets) in entries)
            {
                using Stream entry = zip.CreateEntry(name).Open();
                entry.Write(octets);
            }
        }

        return file.ToArray();
    }
}
