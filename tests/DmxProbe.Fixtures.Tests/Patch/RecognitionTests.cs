using System.Text;
using DmxProbe.Fixtures.Patch;

namespace DmxProbe.Fixtures.Tests.Patch;

/// <summary>What is made of headings, columns and spellings. The spellings are common practice, no source.</summary>
public sealed class RecognitionTests
{
    private const string Header = "unit,type,mode,address\n";

    [Theory]
    [InlineData("1.121", 1, 121)]
    [InlineData("1/121", 1, 121)]
    [InlineData("1:121", 1, 121)]
    [InlineData("1 / 121", 1, 121)]
    [InlineData("1@121", 1, 121)]
    [InlineData("\"1,121\"", 1, 121)]
    [InlineData("A121", 1, 121)]
    [InlineData("C 121", 3, 121)]
    [InlineData("b.121", 2, 121)]
    [InlineData("U1/121", 1, 121)]
    [InlineData("Univ 2 / 121", 2, 121)]
    [InlineData("U2 A121", 2, 121)]
    [InlineData("0:0:1/121", 1, 121)]
    [InlineData("1:2:3/121", 0x123, 121)]
    [InlineData("0:0:15.121", 15, 121)]
    [InlineData("633", 2, 121)]
    [InlineData("512", 1, 512)]
    [InlineData("513", 2, 1)]
    [InlineData("121", 1, 121)]
    [InlineData("121.0", 1, 121)]
    [InlineData("DMX 121", 1, 121)]
    [InlineData("2.121-136", 2, 121)]
    [InlineData("2/121 to 136", 2, 121)]
    [InlineData("633-648", 2, 121)]
    [InlineData("0.121", 0, 121)]
    public void An_address_may_be_spelled_in_these_ways(string address, int universe, int slot)
    {
        PatchUnit unit = Assert.Single(Read(Header + $"A,dimmer,m,{address}\n").Sheet!.Units);
        Assert.Equal((universe, slot), (unit.Universe, unit.Address));
        Assert.Equal(address.Contains('-', StringComparison.Ordinal) || address.Contains("to", StringComparison.Ordinal) ? 16 : 0, unit.StatedFootprint);
    }

    [Theory]
    [InlineData("3", 3)]
    [InlineData("U3", 3)]
    [InlineData("Universe 3", 3)]
    [InlineData("3.0", 3)]
    [InlineData("C", 3)]
    [InlineData("sACN 3", 3)]
    [InlineData("Art-Net 3", 3)]
    [InlineData("0:0:3", 3)]
    [InlineData("0", 0)]
    public void A_universe_may_be_spelled_in_these_ways(string universe, int expected) =>
        Assert.Equal(expected, Assert.Single(Read($"unit,type,universe,address\nA,dimmer,{universe},7\n").Sheet!.Units).Universe);

    [Fact]
    public void A_sheet_with_universe_0_counts_from_0_and_says_so()
    {
        PatchReading reading = Read("unit,type,universe,address\nA,x,1,1\nB,x,0,1\n");
        Assert.Equal((0, 1), (reading.Sheet!.UniverseBase, reading.Sheet.Units[0].Universe));
        Assert.Contains("universes count from 0 (line 3)", reading.Recognition!.Notes);
    }

    [Fact]
    public void The_person_may_say_from_where_universes_count()
    {
        const string Sheet = "unit,type,address\nA,x,A7\nB,x,B7\n";
        Assert.Equal([1, 2], Read(Sheet).Sheet!.Units.Select(unit => unit.Universe));
        Assert.Contains("universe A is 1 (the other reading: --universe-base 0)", Read(Sheet).Recognition!.Notes);
        PatchReading zero = Read(Sheet, new PatchReadOptions { UniverseBase = 0 });
        Assert.Equal([0, 1], zero.Sheet!.Units.Select(unit => unit.Universe));
        Assert.Equal(0, zero.Sheet.UniverseBase);
    }

    [Fact]
    public void Zeros_that_a_spreadsheet_dropped_are_put_back()
    {
        PatchReading reading = Read(Header + "A,x,m,1.001\nB,x,m,1.1\nC,x,m,1.121\nD,x,m,1.13\nE,x,m,1.011\n");
        Assert.Equal([1, 100, 121, 130, 11], reading.Sheet!.Units.Select(unit => unit.Address));
        Assert.Contains("addresses have three digits; zeros lost at the end are put back (line 3)", reading.Recognition!.Notes);
    }

    [Fact]
    public void Short_addresses_stay_as_they_are_on_a_sheet_that_pads_none() =>
        Assert.Equal([1, 13, 121], Read(Header + "A,x,m,1.1\nB,x,m,1.13\nC,x,m,1.121\n").Sheet!.Units.Select(unit => unit.Address));

    [Fact]
    public void Dashes_are_ranges_where_they_can_only_be_ranges()
    {
        PatchReading reading = Read(Header + "A,x,m,1-16\nB,x,m,17-32\nC,x,m,33-48\nD,x,m,49-64\n");
        Assert.Equal([1, 17, 33, 49], reading.Sheet!.Units.Select(unit => unit.Address));
        Assert.All(reading.Sheet.Units, unit => Assert.Equal((1, 16), (unit.Universe, unit.StatedFootprint)));
    }

    [Fact]
    public void Dashes_are_universe_and_address_where_the_first_number_stays() =>
        Assert.Equal([(1, 1), (1, 17), (1, 33), (1, 49)], Read(Header + "A,x,m,1-1\nB,x,m,1-17\nC,x,m,1-33\nD,x,m,1-49\n").Sheet!.Units.Select(unit => (unit.Universe, unit.Address)));

    [Fact]
    public void A_dash_that_may_be_either_is_one_question_with_its_answer()
    {
        const string Sheet = Header + "A,x,m,1-16\nB,x,m,2-32\n";
        Assert.Equal("does the dash in an address mean a range of slots or universe-address, line 2: expected slots 1 to 16, or universe 1 address 16, found '1-16'; say which with --dash range or --dash universe",
            Assert.Single(Read(Sheet).Problems).ToString());
        Assert.Equal(2, Read(Sheet, new PatchReadOptions { DashIsRange = true }).Sheet!.Units[1].Address);
        Assert.Equal(32, Read(Sheet, new PatchReadOptions { DashIsRange = false }).Sheet!.Units[1].Address);
    }

    [Theory]
    [InlineData("Unit,Type,Mode,Univ,Addr,DMX Address\n1,x,m,1,1,9\n2,x,m,1,2,17\n", "which column is the address, line 1: expected one column, found E 'Addr' and F 'DMX Address'; say which with --columns address=E or --columns address=F")]
    [InlineData("Channel,Name,Type,Address\n101,front wash,x,1.1\n102,back wash,x,1.2\n", "which column is the unit, line 1: expected one column, found A 'Channel' and B 'Name'; say which with --columns unit=A or --columns unit=B")]
    [InlineData("unit,type,address,universe\nA,x,0:0:1/1,\nB,x,2.1,\n", "from where do the universes count, line 3: expected one way of writing them, found Net:Sub-Net:Universe on line 2 and a plain number here; say with --universe-base 0 or --universe-base 1 what the first plain number is")]
    [InlineData("unit,type,universe,address\nA,x,sACN 1,1\nB,x,Art-Net 1,1\n", "universes of two protocols on one sheet, line 3: expected one numbering, found sACN and Art-Net; number them 1, 2, 3 on the sheet and say with --map which is which")]
    [InlineData("unit,type,universe,address\nA,x,1,633\n", "two universes for one unit, line 2, column address: expected 1 to 512 in universe 1, or 633 in universe 2, found '633'; say which is right")]
    [InlineData("unit,unit,type,address\nA,B,x,1.1\n", "which column is the unit, line 1: expected one column, found A 'unit' and B 'unit'; say which with --columns unit=A or --columns unit=B")]
    public void An_ambiguous_sheet_gets_one_sentence(string sheet, string sentence) =>
        Assert.Equal(sentence, Assert.Single(Read(sheet).Problems).ToString());

    [Fact]
    public void The_question_is_answered_by_a_letter_or_a_heading()
    {
        const string Sheet = "Channel,Name,Type,Address\n101,front wash,x,1.1\n102,back wash,x,1.2\n";
        Assert.Equal("101", Read(Sheet, Columns((PatchColumn.Unit, "a"))).Sheet!.Units[0].Unit);
        Assert.Equal("front wash", Read(Sheet, Columns((PatchColumn.Unit, "name"))).Sheet!.Units[0].Unit);
        Assert.Equal("the sheet has no such column, line 1, column unit: expected a heading or a letter up to D, found 'Nam'; correct it after --columns",
            Assert.Single(Read(Sheet, Columns((PatchColumn.Unit, "Nam"))).Problems).ToString());
        Assert.Equal("one column is named for two things, line 1, column B: expected one, found unit and type; correct it after --columns",
            Assert.Single(Read(Sheet, Columns((PatchColumn.Unit, "B"), (PatchColumn.Type, "B"))).Problems).ToString());
    }

    [Theory]
    [InlineData("Fixture,Type,Address\n101,wash,1.1\n102,wash,1.9\n", "101", "wash")]
    [InlineData("Unit,Fixture,Address\n101,wash,1.1\n102,wash,1.9\n", "101", "wash")]
    [InlineData("#,Fixture,DMX\n101,wash,1.1\n102,wash,1.9\n", "101", "wash")]
    [InlineData("Unit;Type;Address;Position\n101;wash;1,001;bar\n102;wash;1,009;bar\n", "101", "wash")]
    [InlineData("sep=|\nUnit|Type|Address\n101|wash, 4|1.1\n", "101", "wash, 4")]
    [InlineData("Show: The Glass Orchard\n\nHall, row 3, left\nunit no.,instrument type,DMX addr.\n101,wash,1.1\n", "101", "wash")]
    [InlineData("101,wash,10ch,1.001\n102,wash,10ch,1.011\n103,wash,10ch,1.021\n104,spot,10ch,1.031\n", "101", "wash")]
    public void The_columns_are_found(string sheet, string unit, string type)
    {
        PatchUnit first = Read(sheet).Sheet!.Units[0];
        Assert.Equal((unit, type, 1, 1), (first.Unit, first.Type, first.Universe, first.Address));
    }

    [Fact]
    public void What_was_recognised_can_be_shown()
    {
        PatchRecognition recognition = Read("Patch;\nFixture ID;Model;DMX;Weight;Remarks\n1;wash;2/9;8 kg;new\n1a;;;;\n").Recognition!;
        Assert.Equal(("CSV, semicolons, text", 2), (recognition.Format, recognition.HeadingLine));
        Assert.Equal(["Unit A Fixture ID by its heading", "Type B Model by its heading", "Address C DMX by its heading", "Note E Remarks by its heading"],
            recognition.Columns.Select(column => $"{column.Column} {column.Letters} {column.Heading} {column.Reason}"));
        Assert.Equal(["Weight"], recognition.Ignored);
        Assert.Equal(["universes count from 1 (if the sheet counts from 0: --universe-base 0)", "neither unit nor address on line 4: left out"], recognition.Notes);
    }

    [Fact]
    public void Repeated_headings_section_titles_and_open_addresses_are_told_apart()
    {
        PatchReading reading = Read("Unit,Type,Address\nFirst bar,,\n1,wash,1.1\n2,wash,TBC\nUnit,Type,Address\nFloor,,\n3,wash,1.9\n4,wash,\n");
        Assert.Equal(["1 First bar", "3 Floor"], reading.Sheet!.Units.Select(unit => $"{unit.Unit} {unit.Position}"));
        Assert.Contains("headings repeated on line 5 left out", reading.Recognition!.Notes);
        Assert.Contains("no address yet on lines 4, 8: left out", reading.Recognition.Notes);
    }

    [Fact]
    public void An_empty_universe_means_the_one_above()
    {
        PatchReading reading = Read("unit,type,universe,address\n1,x,2,1\n2,x,,9\n3,x,3,1\n4,x,,9\n");
        Assert.Equal([2, 2, 3, 3], reading.Sheet!.Units.Select(unit => unit.Universe));
        Assert.Contains("the universe of the line above holds on lines 3, 5", reading.Recognition!.Notes);
    }

    [Fact]
    public void A_unit_of_two_parts_keeps_both_addresses()
    {
        PatchSheet sheet = Read("unit,type,mode,address\n12,dimmer,1-slot,1.5\n12,scroller,2-slot,2.101\n,,,2.201\n13,dimmer,1-slot,1.6\n").Sheet!;
        Assert.Equal(["12 dimmer 1.5", "12/2 scroller 2.101", "12/3 dimmer 2.201", "13 dimmer 1.6"], sheet.Units.Select(unit => $"{unit.Unit} {unit.Type} {unit.Universe}.{unit.Address}"));
    }

    [Theory]
    [InlineData("Wash 10 (16ch)", "Wash 10", "16ch")]
    [InlineData("Wash 10, mode 2", "Wash 10", "mode 2")]
    [InlineData("Wash [mode 16ch]", "Wash", "mode 16ch")]
    [InlineData("Par 7 channel", "Par", "7 channel")]
    [InlineData("wash - 10 slots", "wash", "10 slots")]
    [InlineData("led-wash", "led-wash", "")]
    [InlineData("Wash 10", "Wash 10", "")]
    public void A_mode_behind_the_type_is_taken_off(string cell, string type, string mode)
    {
        PatchUnit unit = Assert.Single(Read($"unit,type,address\nA,\"{cell}\",1.1\n").Sheet!.Units);
        Assert.Equal((type, mode), (unit.Type, unit.Mode));
    }

    [Fact]
    public void Chain_order_radio_group_circuit_and_footprint_are_kept()
    {
        PatchUnit unit = Assert.Single(Read("Unit,Type,Address,Chain,Order,Circuit,Radio group,Footprint,Shares with\nA,x,1.1,stage left,3,C7,2,16,B + C\n").Sheet!.Units);
        Assert.Equal(("stage left", 3, "C7", "2", 16), (unit.Chain, unit.ChainOrder, unit.Circuit, unit.Wireless, unit.StatedFootprint));
        Assert.Equal(["B", "C"], unit.SharesWith);
    }

    [Theory]
    [InlineData("utf-8", false, "UTF-8 (valid throughout)")]
    [InlineData("utf-8", true, "UTF-8 (byte order mark)")]
    [InlineData("utf-16", true, "UTF-16 (byte order mark)")]
    [InlineData("utf-16BE", true, "UTF-16, high byte first (byte order mark)")]
    [InlineData("utf-16", false, "UTF-16 (every second byte is 0)")]
    [InlineData("utf-16BE", false, "UTF-16, high byte first (every second byte is 0)")]
    [InlineData("windows-1252", false, "Windows-1252 (not valid UTF-8)")]
    public void The_encoding_is_decided_from_the_bytes(string name, bool mark, string said)
    {
        Encoding encoding = CodePagesEncodingProvider.Instance.GetEncoding(name) ?? Encoding.GetEncoding(name);
        byte[] bytes = [.. mark ? encoding.GetPreamble() : [], .. encoding.GetBytes("unit,type,address,position\nA,x,1.1,Brücke – Mitte\n")];
        using MemoryStream stream = new(bytes, writable: false);
        PatchReading reading = PatchReader.Read(stream);
        Assert.Equal("Brücke – Mitte", Assert.Single(reading.Sheet!.Units).Position);
        Assert.EndsWith(said, reading.Recognition!.Format, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0, "A")]
    [InlineData(25, "Z")]
    [InlineData(26, "AA")]
    [InlineData(53, "BB")]
    [InlineData(253, "IT")]
    public void Columns_have_the_letters_of_spreadsheets(int place, string letters)
    {
        string blanks = new(',', place);
        PatchReading reading = Read($"{blanks}unit,type,address\n{blanks}A,x,1.1\n");
        Assert.Equal(letters, reading.Recognition!.Columns.First(column => column.Column == PatchColumn.Unit).Letters);
    }

    private static PatchReadOptions Columns(params (PatchColumn Column, string Name)[] columns) =>
        new() { Columns = columns.ToDictionary(pair => pair.Column, pair => pair.Name) };

    private static PatchReading Read(string text, PatchReadOptions? options = null)
    {
        using StringReader reader = new(text);
        return PatchReader.Read(reader, options);
    }
}
