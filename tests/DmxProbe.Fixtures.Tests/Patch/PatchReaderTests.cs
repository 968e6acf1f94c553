using System.Globalization;
using System.Text;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Fixtures.Tests.Tables;

namespace DmxProbe.Fixtures.Tests.Patch;

public sealed class PatchReaderTests
{
    private const string Header = "unit,type,mode,universe,address\n";

    private const string Example = "unit,type,mode,universe,address,position,chain,circuit,sharesWith,note\n" +
        "LX1-5,wash10,10-slot,1,49,LX1,A,7,,\nLX1-6,wash10,10-slot,1,061,LX1,A,7,,\"focus, stage left\"\n" +
        "DS1,dimmer,1-slot,,2.005,FOH,,,DS2 | DS3,\nDS2,dimmer,1-slot,2,2/5,FOH,,,,\n";

    [Fact]
    public void A_unit_has_what_its_line_says()
    {
        PatchSheet sheet = Read(Example).Sheet!;
        Assert.Equal(4, sheet.Units.Count);
        PatchUnit unit = sheet.Find("lx1-6")!;
        Assert.Equal(("LX1-6", "wash10", "10-slot", 1, 61), (unit.Unit, unit.Type, unit.Mode, unit.Universe, unit.Address));
        Assert.Equal(("LX1", "A", "7", "focus, stage left", 3), (unit.Position, unit.Chain, unit.Circuit, unit.Note, unit.Line));
        Assert.Equal(["DS2", "DS3"], sheet.Find("DS1")!.SharesWith);
        Assert.Equal([1, 2], sheet.Universes);
    }

    [Theory]
    [InlineData("2", "5", 2, 5)]
    [InlineData("0", "512", 0, 512)]
    [InlineData("", "2.005", 2, 5)]
    [InlineData("2", "2.5", 2, 5)]
    [InlineData("", "12/061", 12, 61)]
    [InlineData("63999", "1", 63999, 1)]
    public void A_place_may_be_written_in_these_ways(string universe, string address, int expectedUniverse, int expectedAddress)
    {
        PatchUnit unit = Assert.Single(Read($"{Header}A,dimmer,m,{universe},{address}\n").Sheet!.Units);
        Assert.Equal((expectedUniverse, expectedAddress), (unit.Universe, unit.Address));
    }

    [Theory]
    [InlineData("unit,mode,universe,address\nA,m,1,1\n", "a column is missing, line 1, column type: expected headings such as unit,type,mode,universe,address, found 'unit', 'mode', 'universe', 'address'; name the columns so, or say which they are with --columns type=A")]
    [InlineData("# sheet\n\nunit,mode,note\n", "columns are missing, line 3, column type, address: expected headings such as unit,type,mode,universe,address, found 'unit', 'mode', 'note'; name the columns so, or say which they are with --columns type=A,address=B")]
    [InlineData(Header, "the file has no rows: expected rows with a unit and an address below the headings, found none; check that it is the right file and that it was saved")]
    [InlineData(Header + "A,t,m,1,x\n", "not an address, line 2, column address: expected 1 to 512, or universe.address as in 2.061, found 'x'; write it so, or put # in front of the line to leave it out")]
    [InlineData(Header + "A,t,m,1,0\n", "not an address, line 2, column address: expected 1 to 512, or universe.address as in 2.061, found '0'; correct it, or put # in front of the line to leave it out")]
    [InlineData(Header + "A,t,m,1,600\n", "two universes for one unit, line 2, column address: expected 1 to 512 in universe 1, or 600 in universe 2, found '600'; say which is right")]
    [InlineData(Header + "A,t,m,,61\n", "no universe, line 2, column universe: expected a number, a letter, or Net:Sub-Net:Universe as in 0:0:1, found nothing; use the sheet's own number of the universe")]
    [InlineData(Header + "A,t,m,one,61\n", "not a universe, line 2, column universe: expected a number, a letter, or Net:Sub-Net:Universe as in 0:0:1, found 'one'; use the sheet's own number of the universe")]
    [InlineData(Header + "A,t,m,64000,61\n", "a universe out of range, line 2, column universe: expected 0 to 63999, found '64000'; use the sheet's own number of the universe")]
    [InlineData(Header + "A,t,m,1,2.061\n", "two universes for one unit, line 2, column universe: expected 2 as in the address, or nothing, found '1'; say which is right")]
    [InlineData(Header + "A,t,m,,2.513\n", "not an address, line 2, column address: expected 1 to 512, or universe.address as in 2.061, found '2.513'; correct it, or put # in front of the line to leave it out")]
    [InlineData(Header + "A,t,m,,2.\n", "not an address, line 2, column address: expected 1 to 512, or universe.address as in 2.061, found '2.'; write it so, or put # in front of the line to leave it out")]
    [InlineData(Header + "A,t,m,,1.2.3\n", "not an address, line 2, column address: expected 1 to 512, or universe.address as in 2.061, found '1.2.3'; write it so, or put # in front of the line to leave it out")]
    [InlineData(Header + "A,t,m,1,12-Jan\n", "a date where an address should be, line 2, column address: expected an address, found '12-Jan'; the spreadsheet made a date of an address such as 1-12: set the column to text and type it again")]
    [InlineData(Header + ",t,m,1,1\n", "an empty cell, line 2, column unit: expected a name, found nothing; fill it in, or put # in front of the line to leave it out")]
    [InlineData(Header + "A,,m,1,1\n", "an empty cell, line 2, column type: expected a name, found nothing; fill it in, or put # in front of the line to leave it out")]
    public void A_refusal_is_one_sentence_with_its_place(string text, string sentence)
    {
        PatchReading reading = Read(text);
        Assert.Null(reading.Sheet);
        Assert.Equal(sentence, reading.Problems[0].ToString());
    }

    [Fact]
    public void More_than_20_000_units_are_refused()
    {
        StringBuilder text = new(Header);
        for (int unit = 0; unit < PatchReader.MaxUnits; unit++)
        {
            text.Append(CultureInfo.InvariantCulture, $"U{unit},t,m,1,1\n");
        }

        Assert.NotNull(Read(text.ToString()).Sheet);
        Assert.Equal("too many rows", Assert.Single(Read(text.Append("X,t,m,1,1\n").ToString()).Problems).What);
    }

    [Fact]
    public void Every_cut_of_a_sheet_gives_a_sheet_or_a_sentence()
    {
        for (int length = 0; length <= Example.Length; length++)
        {
            Check(Read(Example[..length]));
        }
    }

    [Fact]
    public void Noise_gives_a_sheet_or_a_sentence()
    {
        int whole = Noise.Texts(20260103, Example).Sum(text => Check(Read(text)));
        Assert.True(whole > 0);
    }

    private static int Check(PatchReading reading)
    {
        Assert.NotEqual(reading.Sheet is null, reading.Problems.Count == 0);
        Assert.All(reading.Problems, problem => Assert.DoesNotContain(problem.ToString(), char.IsControl));
        foreach (PatchUnit unit in reading.Sheet?.Units ?? [])
        {
            Assert.InRange(unit.Address, 1, 512);
            Assert.InRange(unit.Universe, 0, PatchReader.MaxUniverse);
            Assert.InRange(unit.Unit.Length, 1, PatchReader.MaxName);
        }

        if (reading.Sheet is { } sheet)
        {
            Assert.All(PatchCheck.Check(sheet, Sheets.Charts), finding => Assert.DoesNotContain(finding.Text + finding.Action, char.IsControl));
        }

        return reading.Sheet is null ? 0 : 1;
    }

    private static PatchReading Read(string text)
    {
        using StringReader reader = new(text);
        return PatchReader.Read(reader);
    }
}
