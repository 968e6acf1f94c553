using DmxProbe.Fixtures.Patch;

namespace DmxProbe.Fixtures.Tests.Patch;

public sealed class PatchWriterTests
{
    [Fact]
    public void What_is_written_is_read_back()
    {
        PatchUnit[] units =
        [
            new("=1+1", "wash, 10", "10-slot", 0, 512, "Brücke \"A\"", "-c 1", "@7", ["B", "C"], "two\nlines; and | more", 2) { ChainOrder = 3, Wireless = "2", StatedFootprint = 16 },
            new("#2", "'quoted", "m", 3, 1, "", "", "", [], "+tab\there", 3),
            new("3", "'-x", "m", 63_999, 1, "", "", "", [], "", 4),
        ];
        using StringWriter text = new();
        PatchWriter.Write(text, units);
        Assert.DoesNotContain(text.ToString().Split('\n'), line => line.Length > 0 && line[0] is '=' or '+' or '-' or '@');
        using StringReader back = new(text.ToString());
        PatchReading reading = PatchReader.Read(back);
        Assert.Empty(reading.Problems);
        Assert.Equal(units.Select(Shape), reading.Sheet!.Units.Select(Shape));
    }

    private static string Shape(PatchUnit unit) => (unit with { SharesWith = [], Line = 0 }).ToString() + string.Join('|', unit.SharesWith);
}
