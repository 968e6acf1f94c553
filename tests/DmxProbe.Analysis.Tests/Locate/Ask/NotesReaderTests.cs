using System.Globalization;
using System.Text;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Locate.Ask;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Rigs;

namespace DmxProbe.Analysis.Tests.Locate.Ask;

/// <summary>Notes as people write them, and what is wrong with those that cannot be read.</summary>
public class NotesReaderTests
{
    private const string Good = "time,unit,look,raised\n# a comment\n12.5,LX1-6,dark,\n13,lx1-6,red\n\n14,LX1-6,lit,1.016-020@255 2.101@128\n15,LX2,tap\n16,LX1-6,rdm 16 footprint 10 personality 2\n17,LX1-6,as found,\"it reads 1.016, not 1.061\"\n18,LX1-6,unsure,none\n";
    private static readonly PatchSheet Sheet = PatchReader.Read(new StringReader("unit,type,mode,universe,address\nLX1-6,x,m,1,61\nLX2,x,m,1,71\n")).Sheet!;
    private static readonly AskRig Rig = AskTrial.Open(AskTrial.FourModes).Rig;

    [Fact]
    public void Every_kind_of_note_is_read_with_its_line()
    {
        NotesReading reading = Read(Good);
        Assert.Null(reading.Problem);
        Assert.Equal(1, reading.OfOthers);
        Assert.Equal([3, 4, 6, 8, 9, 10], reading.Notes.Select(note => note.Line));
        Assert.Equal([Seen.Dark, new Seen(SeenKind.Lit, SeenColour.Red), Seen.Lit, new Seen(SeenKind.Rdm, null, new RdmReport(16, 10, 2)), new Seen(SeenKind.Log), Seen.Unsure], reading.Notes.Select(note => note.Seen));
        Assert.Null(reading.Notes[0].Raised);
        Assert.Equal(6, reading.Notes[2].Raised!.Count);
        Assert.Contains(new RaisedSlot(1, 101, 128), reading.Notes[2].Raised!);
        Assert.Empty(reading.Notes[5].Raised!);
    }

    [Theory]
    [InlineData("", "the file is empty")]
    [InlineData("a,b\n", "line 1, column 1")]
    [InlineData("time,unit,look\n1,LX1-6\n", "line 2, column 8")]
    [InlineData("time,unit,look\nnoon,LX1-6,dark\n", "line 2, column 1 (time)")]
    [InlineData("time,unit,look\n1, LX1-7,dark\n", "line 2, column 4 (unit)")]
    [InlineData("time;unit;look\n1;LX1-6;sparkling\n", "line 2, column 9 (look)")]
    [InlineData("time,unit,look\n1,LX1-6,rdm 513\n", "line 2, column 9 (look)")]
    [InlineData("time,unit,look,raised\n1,LX1-6,lit,1.020-016@255\n", "line 2, column 13 (raised)")]
    [InlineData("time,unit,look,raised\n1,LX1-6,lit,7.001@255\n", "line 2, column 13 (raised)")]
    [InlineData("time,unit,look,raised\n1,LX1-6,lit,1.001@0\n", "line 2, column 13 (raised)")]
    public void A_bad_note_is_refused_with_its_line_and_column(string text, string where)
    {
        NotesReading reading = Read(text);
        Assert.NotNull(reading.Problem);
        Assert.Empty(reading.Notes);
        Assert.Contains(where, reading.Problem.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void Notes_cut_anywhere_and_random_text_never_throw()
    {
        for (int length = 0; length <= Good.Length; length++)
        {
            _ = Read(Good[..length]);
        }

        Random random = new(7);
        for (int i = 0; i < 2_000; i++)
        {
            char[] noise = [.. Enumerable.Range(0, random.Next(60)).Select(_ => (char)random.Next(0, 300))];
            _ = Read("time,unit,look,raised\n1,LX1-6,lit," + new string(noise) + "\n2," + new string(noise));
            _ = Read(new string(noise));
        }
    }

    [Fact]
    public void Raised_slots_read_back_as_they_are_written()
    {
        RaisedSlot[] raised = [new(0, 1, 255), new(0, 2, 255), new(0, 3, 128), new(2, 512, 1)];
        string text = RaisedText.Write(Rig, raised);
        Assert.Equal("1.001-002@255 1.003@128 3.512@1", text);
        Assert.Equal(raised, RaisedText.Read(Rig, text));
        Assert.Equal("none", RaisedText.Write(Rig, []));
    }

    [Fact]
    public void A_universe_that_the_sheet_does_not_have_is_named_by_the_wire()
    {
        AskRig rig = Rig with { SheetUniverses = [1, -1, 3] };
        string text = RaisedText.Write(rig, [new RaisedSlot(1, 9, 255)]);
        Assert.Equal("sacn:2.009@255", text);
        Assert.Equal([new RaisedSlot(1, 9, 255)], RaisedText.Read(rig, text));
        Assert.Equal(UniverseProtocol.Sacn, rig.Space.Universes[1].Protocol);
    }

    private static NotesReading Read(string text)
    {
        using StringReader reader = new(new StringBuilder(text).ToString());
        return NotesReader.Read(reader, Rig, Sheet, "LX1-6", cell =>
            double.TryParse(cell, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out double seconds) ? Timestamp.FromUnixNanoseconds(0) + Duration.FromSeconds(seconds) : null);
    }
}
