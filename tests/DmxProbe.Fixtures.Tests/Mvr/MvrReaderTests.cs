using System.Text;
using DmxProbe.Fixtures.Mvr;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Testing.Files;

namespace DmxProbe.Fixtures.Tests.Mvr;

public sealed class MvrReaderTests
{
    // Standards sheet G4.1; the text of MVR states no formula for absolute addresses, these are common practice.
    [Theory]
    [InlineData("1", 1, 1)]
    [InlineData("45", 1, 45)]
    [InlineData("512", 1, 512)]
    [InlineData("513", 2, 1)]
    [InlineData("1024", 2, 512)]
    [InlineData("1025", 3, 1)]
    [InlineData("1537", 4, 1)]
    [InlineData("3.7", 3, 7)]
    public void Absolute_and_split_addresses_give_universe_and_slot(string text, int universe, int address)
    {
        PatchUnit unit = Assert.Single(Read(MvrFiles.Fixture("a", "101", "One", (0, text))).Sheet!.Units);
        Assert.Equal((universe, address), (unit.Universe, unit.Address));
    }

    [Fact]
    public void Fixtures_become_units_with_their_charts()
    {
        MvrReading reading = Read(MvrFiles.Fixture("a", "101", "One", (0, "5")) + MvrFiles.Fixture("par", "0", "One", (1, "6")) + MvrFiles.Fixture("par", "", "One", (0, "7")));
        Assert.Equal(["101 dim One 1.5 FOH <bar>", "par dim One 1.6 FOH <bar>", "par #2 dim One 1.7 FOH <bar>"],
            reading.Sheet!.Units.Select(unit => $"{unit.Unit} {unit.Type} {unit.Mode} {unit.Universe}.{unit.Address} {unit.Position}"));
        Assert.Equal("dim", Assert.Single(reading.Charts).Type);
        Assert.Empty(reading.Notes);
    }

    [Theory]
    [InlineData(0, 1)] // breaks counted from 0, as MVR's default
    [InlineData(1, 2)] // breaks counted from 1, as GDTF's
    public void Each_break_is_a_unit_with_the_mode_of_that_break(int first, int second)
    {
        MvrReading reading = Read(MvrFiles.Fixture("a", "9", "Two", (first, "5"), (second, "600")));
        Assert.Equal(["9 Two 1.5", "9/2 Two, break 2 2.88"], reading.Sheet!.Units.Select(unit => $"{unit.Unit} {unit.Mode} {unit.Universe}.{unit.Address}"));
        Assert.All(reading.Sheet.Units, unit => Assert.Contains(reading.Charts[0].Modes, mode => mode.Name == unit.Mode));
        Assert.Equal(3, reading.Charts[0].Modes.Single(mode => mode.Name == "Two, break 2").Footprint);
    }

    [Fact]
    public void Address_0_is_not_patched_and_said()
    {
        MvrReading reading = Read(MvrFiles.Fixture("a", "1", "One", (0, "0")) + MvrFiles.Fixture("b", "2", "One", (0, "4"), (1, "soon")));
        Assert.Equal("2", Assert.Single(reading.Sheet!.Units).Unit);
        Assert.Equal(["'2': 'soon' is no address and is left out", "1 fixture without an address left out"], reading.Notes);
    }

    [Fact]
    public void Fixtures_inside_fixtures_are_read()
    {
        string inner = MvrFiles.Fixture("in", "2", "One", (0, "2"));
        string outer = MvrFiles.Fixture("out", "1", "One", (0, "1")).Replace("</Fixture>", $"<ChildList>{inner}</ChildList></Fixture>", StringComparison.Ordinal);
        Assert.Equal(["1 1", "2 2"], Read(outer).Sheet!.Units.Select(unit => $"{unit.Unit} {unit.Address}"));
    }

    [Fact]
    public void A_sheet_may_be_an_mvr_file()
    {
        using MemoryStream file = new(MvrFiles.Mvr(MvrFiles.Scene(MvrFiles.Fixture("a", "7", "One", (0, "33")))));
        PatchReading reading = PatchReader.Read(file);
        Assert.Equal(33, Assert.Single(reading.Sheet!.Units).Address);
        Assert.Single(reading.Charts);
        Assert.Equal("an MVR file: the patched fixtures of its scene", reading.Recognition!.Format);
    }

    [SkippableFact]
    public void The_scene_at_hand_has_a_chart_and_nothing_patched()
    {
        string? path = Places.SharedFile("captures", "fixtures", "mvr", "basic_fixture.mvr");
        Skip.If(path is null, Places.NoShared);
        using FileStream file = File.OpenRead(path);
        MvrReading reading = MvrReader.Read(file);
        Assert.Equal("nothing in this MVR file is patched: expected fixtures with an address of 1 or more, found 1 without an address; patch the fixtures and save it again", Assert.Single(reading.Problems).ToString());
        Assert.Equal("LED PAR 64 RGBW", Assert.Single(reading.Charts).Type);
    }

    [Fact]
    public void What_is_no_mvr_file_is_refused_in_one_sentence()
    {
        Assert.Equal("this is not a readable MVR file: expected an MVR file, found a zip file without GeneralSceneDescription.xml; save it again from the program it is from, or type the patch as CSV",
            Assert.Single(Octets(MvrFiles.Gdtf()).Problems).ToString());
        Assert.StartsWith("this is not a readable MVR file", Assert.Single(Octets([1, 2, 3]).Problems).ToString(), StringComparison.Ordinal);
        Assert.StartsWith("the scene description of this MVR file is broken, line 1", Assert.Single(Octets(MvrFiles.Mvr("<GeneralSceneDescription><Scene>")).Problems).ToString(), StringComparison.Ordinal);
        Assert.Contains("without a scene", Assert.Single(Octets(MvrFiles.Mvr("<a/>")).Problems).ToString(), StringComparison.Ordinal);
        string bomb = "<!DOCTYPE a [<!ENTITY x \"xxxxxxxxxx\"><!ENTITY y \"&x;&x;&x;\">]><GeneralSceneDescription>&y;</GeneralSceneDescription>";
        Assert.StartsWith("the scene description of this MVR file is broken", Assert.Single(Octets(MvrFiles.Mvr(bomb)).Problems).ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_type_that_is_missing_or_broken_leaves_its_units_without_a_chart()
    {
        string scene = MvrFiles.Scene(MvrFiles.Fixture("a", "1", "One", (0, "1")));
        byte[] missing = MvrFiles.Zip(("GeneralSceneDescription.xml", Encoding.UTF8.GetBytes(scene)));
        Assert.Equal("no GDTF file 'dim.gdtf' in it, or one that is too long: its units have no chart from here", Assert.Single(Octets(missing).Notes));
        byte[] broken = MvrFiles.Zip(("GeneralSceneDescription.xml", Encoding.UTF8.GetBytes(scene)), ("dim.gdtf", [1, 2, 3]), ("../../evil", [1]));
        MvrReading reading = Octets(broken);
        Assert.Single(reading.Sheet!.Units);
        Assert.StartsWith("'dim.gdtf' in it: this is not a readable GDTF file", Assert.Single(reading.Notes), StringComparison.Ordinal);
    }

    [Fact]
    public void A_scene_that_unpacks_far_beyond_its_size_is_refused()
    {
        byte[] blank = Encoding.UTF8.GetBytes(new string(' ', 40 * 1024 * 1024));
        Assert.Contains("more than 200 times its size", Assert.Single(Octets(MvrFiles.Zip(("GeneralSceneDescription.xml", blank))).Problems).ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void No_cut_and_no_damage_throws()
    {
        byte[] whole = MvrFiles.Mvr(MvrFiles.Scene(MvrFiles.Fixture("a", "1", "Two", (0, "1"), (1, "2.2"))));
        for (int length = 0; length < whole.Length; length++)
        {
            Assert.NotEmpty(Octets(whole[..length]).Problems);
        }

        Random random = new(20261125);
        for (int i = 0; i < 500; i++)
        {
            byte[] damaged = [.. whole];
            for (int hit = random.Next(1, 8); hit > 0; hit--)
            {
                damaged[random.Next(damaged.Length)] = (byte)random.Next(256);
            }

            MvrReading reading = Octets(damaged);
            Assert.Equal(reading.Sheet is null, reading.Problems.Count > 0);
        }
    }

    private static MvrReading Read(string fixtures) => Octets(MvrFiles.Mvr(MvrFiles.Scene(fixtures)));

    private static MvrReading Octets(byte[] octets)
    {
        using MemoryStream file = new(octets, writable: false);
        return MvrReader.Read(file);
    }
}
