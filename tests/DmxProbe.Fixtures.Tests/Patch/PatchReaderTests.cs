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
    [InlineData("unit,type,universe,address\n", "a column is missing, line 1, column mode: expected a header with unit,type,mode,universe,address, found 'unit', 'type', 'universe', 'address'; name the columns so, in any order and case")]
    [InlineData("# sheet\n\nunit,type,address\n", "columns are missing, line 3, column mode, universe: expected a header with unit,type,mode,universe,address, found 'unit', 'type', 'address'; name the columns so, in any order and case")]
    [InlineData(Header + "A,t,m,1,x\n", "not a whole number, line 2, column address: expected 1 to 512, found 'x'; write 1 to 512, or universe.address as in 2.061")]
    [InlineData(Header + "A,t,m,1,0\n", "a number out of range, line 2, column address: expected 1 to 512, found '0'; write 1 to 512, or universe.address as in 2.061")]
    [InlineData(Header + "A,t,m,1,600\n", "an address above 512, line 2, column address: expected 1 to 512, found '600'; if it counts through all universes, it is address 88 of universe number 2: write that")]
    [InlineData(Header + "A,t,m,1,1024\n", "an address above 512, line 2, column address: expected 1 to 512, found '1024'; if it counts through all universes, it is address 512 of universe number 2: write that")]
    [InlineData(Header + "A,t,m,,61\n", "not a whole number, line 2, column universe: expected 0 to 63999, found nothing; use the sheet's own number of the universe")]
    [InlineData(Header + "A,t,m,64000,61\n", "a number out of range, line 2, column universe: expected 0 to 63999, found '64000'; use the sheet's own number of the universe")]
    [InlineData(Header + "A,t,m,1,2.061\n", "two universes for one unit, line 2, column universe: expected 2 as in the address, or nothing, found '1'; say which is right")]
    [InlineData(Header + "A,t,m,,2.513\n", "not an address, line 2, column address: expected universe.address as in 2.061, the address 1 to 512, found '2.513'; write 1 to 512, or universe.address as in 2.061")]
    [InlineData(Header + "A,t,m,,2.\n", "not an address, line 2, column address: expected universe.address as in 2.061, the address 1 to 512, found '2.'; write 1 to 512, or universe.address as in 2.061")]
    [InlineData(Header + "A,t,m,,1.2.3\n", "not an address, line 2, column address: expected universe.address as in 2.061, the address 1 to 512, found '1.2.3'; write 1 to 512, or universe.address as in 2.061")]
    [InlineData(Header + ",t,m,1,1\n", "an empty cell, line 2, column unit: expected a name, found nothing; fill it in, or put # in front of the line to leave it out")]
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
