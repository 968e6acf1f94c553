using System.IO.Compression;
using System.Text;
using DmxProbe.Fixtures.Charts;

using static DmxProbe.Fixtures.Tests.Gdtf.GdtfFiles;

namespace DmxProbe.Fixtures.Tests.Gdtf;

public sealed class HostileGdtfTests
{
    private static readonly byte[] Good = File(Description(Mode(
        Channel("1,2", "Dimmer", Function("Dimmer", "0/2", Set("Closed", "0/2") + Set("", "1/2"), "ModeMaster=\"Body_Control1\" ModeFrom=\"0/1\" ModeTo=\"9/1\"")) + Channel("3", "Control1"))));

    [Fact]
    public void A_file_cut_at_any_length_is_refused_with_one_sentence()
    {
        for (int length = 0; length < Good.Length; length++)
        {
            Refused(Good[..length]);
        }

        Assert.NotNull(Read(Good).Chart);
    }

    [Fact]
    public void A_description_cut_at_any_length_is_refused_with_one_sentence()
    {
        string text = Description(Mode(Channel("1", "Dimmer")));
        for (int length = 0; length < text.Length; length++)
        {
            Refused(File(text[..length]));
        }
    }

    [Fact]
    public void Random_bytes_and_random_damage_are_read_or_refused()
    {
        Random random = new(20261125);
        string text = Description(Mode(Channel("1,2", "Dimmer", Function("Dimmer", sets: Set("Closed", "0/1"))) + Channel("3", "Pan")));
        const string Alphabet = "<>\"'=/&; 0123456789-,.abBDNo\u0000\uFFFF";
        for (int i = 0; i < 3_000; i++)
        {
            byte[] noise = new byte[random.Next(300)];
            random.NextBytes(noise);
            "PK\u0003\u0004"u8.CopyTo(noise.Length >= 4 && i % 2 == 0 ? noise : new byte[4]);
            ReadOrRefused(noise);

            byte[] damaged = [.. Good];
            char[] written = text.ToCharArray();
            for (int hit = random.Next(1, 8); hit > 0; hit--)
            {
                damaged[random.Next(damaged.Length)] = (byte)random.Next(256);
                written[random.Next(written.Length)] = Alphabet[random.Next(Alphabet.Length)];
            }

            ReadOrRefused(damaged);
            ReadOrRefused(File(new string(written)));
        }
    }

    [Fact]
    public void A_zip_bomb_is_refused_before_it_fills_the_memory()
    {
        byte[] bomb = Bomb("description.xml", 20);
        Assert.True(bomb.Length < 64 * 1024);
        long before = GC.GetAllocatedBytesForCurrentThread();
        Assert.Contains("200 times its size", Refused(bomb), StringComparison.Ordinal);
        Assert.Contains("32 MB", Refused(Bomb("description.xml", 300)), StringComparison.Ordinal);
        Assert.InRange(GC.GetAllocatedBytesForCurrentThread() - before, 0, 64L * 1024 * 1024);
    }

    [Fact]
    public void What_is_not_a_description_is_never_unpacked()
    {
        using MemoryStream file = new();
        using (ZipArchive zip = new(file, ZipArchiveMode.Create, leaveOpen: true))
        {
            Write(zip, "../../etc/description.xml", "traversal");
            Write(zip, "C:\\description.xml", "traversal");
            Fill(zip, "models/bomb.glb", 300);
            Write(zip, "description.xml", Description(Mode(Channel("1", "Dimmer"))));
        }

        long before = GC.GetAllocatedBytesForCurrentThread();
        Assert.Equal(1, Read(file.ToArray()).Chart!.Modes[0].Footprint);
        Assert.InRange(GC.GetAllocatedBytesForCurrentThread() - before, 0, 64L * 1024 * 1024);
        Refused(Zip(("../description.xml", Description(Mode(Channel("1", "Dimmer"))))));
    }

    [Theory]
    [InlineData("<!DOCTYPE GDTF [<!ENTITY a \"aaaaaaaaaa\"><!ENTITY b \"&a;&a;&a;&a;&a;&a;&a;&a;\">]><GDTF>&b;</GDTF>")]
    [InlineData("<!DOCTYPE GDTF SYSTEM \"file:///etc/hostname\"><GDTF/>")]
    [InlineData("<?xml version=\"1.0\" encoding=\"no-such-encoding\"?><GDTF/>")]
    [InlineData("<GDTF>&unknown;</GDTF>")]
    [InlineData("<GDTF><FixtureType/>")]
    [InlineData("<html><body>not found</body></html>")]
    [InlineData("<GDTF/>")]
    [InlineData("<GDTF><FixtureType/></GDTF>")]
    [InlineData("")]
    public void A_description_that_is_none_is_refused(string description) => Refused(File(description));

    [Fact]
    public void A_zip_file_without_a_description_is_refused()
    {
        Assert.Contains("a zip file without one", Refused(Zip(("readme.txt", "x"))), StringComparison.Ordinal);
        Refused(Zip());
    }

    [Fact]
    public void Too_many_entries_too_many_elements_and_too_much_depth_are_refused()
    {
        Assert.Contains("1001 entries", Refused(Zip([.. Enumerable.Range(0, 1001).Select(i => ($"{i}", ""))])), StringComparison.Ordinal);
        Assert.Contains("inside each other", Refused(File(Description(Mode(Channel("1", "Dimmer")),
            string.Concat(Enumerable.Repeat("<Geometry Name=\"Body\">", 100)) + string.Concat(Enumerable.Repeat("</Geometry>", 100))))), StringComparison.Ordinal);
        StringBuilder many = new();
        for (int i = 0; i < 410_000; i++)
        {
            many.Append("<Geometry Name=\"").Append(i * 7919L % 1000003).Append("\"/>"); // no ratio of a bomb
        }

        Assert.Contains("elements", Refused(File(Description(Mode(Channel("1", "Dimmer")), many.ToString()))), StringComparison.Ordinal);
    }

    [Fact]
    public void References_that_multiply_end()
    {
        string pixels = string.Concat(Enumerable.Range(0, 8).Select(level =>
            $"<Geometry Name=\"L{level}\">" + string.Concat(Enumerable.Range(0, 20).Select(i => $"<GeometryReference Name=\"r{i}\" Geometry=\"L{level + 1}\"/>")) + "</Geometry>")) + "<Geometry Name=\"L8\"/>";
        string body = "<Geometry Name=\"Body\"><GeometryReference Name=\"r\" Geometry=\"L0\"/></Geometry>";
        ReadOrRefused(File(Description(Mode(Channel("1", "Dimmer", geometry: "L8")), body + pixels)));
    }

    [Fact]
    public void A_chart_in_an_endless_stream_is_refused()
    {
        using Endless endless = new();
        Assert.Equal("the file is too long", Assert.Single(ChartFile.Read("x", endless).Problems).What);
    }

    private static string Refused(byte[] octets)
    {
        ChartReading reading = Read(octets);
        Assert.Null(reading.Chart);
        string sentence = Assert.Single(reading.Problems).ToString();
        Assert.DoesNotContain(sentence, char.IsControl);
        Assert.InRange(sentence.Length, 20, 400);
        return sentence;
    }

    private static void ReadOrRefused(byte[] octets)
    {
        using MemoryStream file = new(octets, writable: false);
        ChartReading reading = ChartFile.Read("x", file);
        Assert.Equal(reading.Chart is null, reading.Problems.Count > 0);
        Assert.All(reading.Chart?.Modes ?? [], mode => Assert.InRange(mode.Footprint, 1, 512));
    }

    private static byte[] Bomb(string name, int megabytes)
    {
        using MemoryStream file = new();
        using (ZipArchive zip = new(file, ZipArchiveMode.Create, leaveOpen: true))
        {
            Fill(zip, name, megabytes);
        }

        return file.ToArray();
    }

    private static void Fill(ZipArchive zip, string name, int megabytes)
    {
        byte[] block = new byte[1024 * 1024];
        Array.Fill(block, (byte)' ');
        using Stream entry = zip.CreateEntry(name).Open();
        entry.Write("<GDTF>"u8);
        for (int i = 0; i < megabytes; i++)
        {
            entry.Write(block);
        }
    }

    private static void Write(ZipArchive zip, string name, string text)
    {
        using Stream entry = zip.CreateEntry(name).Open();
        entry.Write(Encoding.UTF8.GetBytes(text));
    }

    private sealed class Endless : MemoryStream
    {
        public override int Read(byte[] buffer, int offset, int count)
        {
            Array.Fill(buffer, (byte)'a', offset, count);
            return count;
        }
    }
}
