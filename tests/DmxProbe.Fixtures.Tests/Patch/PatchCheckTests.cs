using DmxProbe.Fixtures.Patch;

namespace DmxProbe.Fixtures.Tests.Patch;

public sealed class PatchCheckTests
{
    [Fact]
    public void A_sheet_without_faults_has_no_findings() =>
        Assert.Empty(Check("A,wash10,10-slot,1,1,", "B,WASH10,10-Slot,1,11,", "C,wash10,10-slot,2,1,", "D,wash10,10-slot,1,503,"));

    [Fact]
    public void Overlapping_units_are_named_with_their_lines_and_slots()
    {
        PatchFinding finding = Assert.Single(Check("A,wash10,10-slot,1,1,", "B,wash10,10-slot,1,10,"));
        Assert.Equal((PatchCheck.AddressOverlap, PatchSeverity.Fault, 3), (finding.Id, finding.Severity, finding.Line));
        Assert.Equal(["A", "B"], finding.Units);
        Assert.Equal("units 'A' (line 2) and 'B' (line 3) overlap in slots 10 to 10 of universe 1", finding.Text);
    }

    [Fact]
    public void A_long_unit_is_held_against_all_that_it_covers() =>
        Assert.Equal(["A,B", "A,C"], Check("A,head16,16-slot,1,1,", "B,dimmer,1-slot,1,5,", "C,dimmer,1-slot,1,16,", "D,dimmer,1-slot,1,17,").Select(finding => string.Join(',', finding.Units)));

    [Fact]
    public void Two_units_on_one_address_may_be_meant()
    {
        PatchFinding finding = Assert.Single(Check("A,dimmer,1-slot,1,1,", "B,dimmer,1-slot,1,1,"));
        Assert.Equal((PatchCheck.SharedAddress, PatchSeverity.Warning), (finding.Id, finding.Severity));
        Assert.Contains("sharesWith", finding.Action, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("B", "")]
    [InlineData("", "a")]
    [InlineData("B", "A")]
    public void Sharing_is_fine_whichever_of_the_two_says_so(string first, string second) =>
        Assert.Empty(Check($"A,rgb,3-slot,1,1,{first}", $"B,rgb,3-slot,1,1,{second}"));

    [Fact]
    public void Sharing_goes_by_way_of_a_third() =>
        Assert.Empty(Check("A,rgb,3-slot,1,1,", "B,rgb,3-slot,1,1,A", "C,rgb,3-slot,1,1,A", "D,rgb,3-slot,1,1,C"));

    [Fact]
    public void A_stranger_that_overlaps_a_shared_pair_is_found_once()
    {
        PatchFinding finding = Assert.Single(Check("A,rgb,3-slot,1,1,B", "B,rgb,3-slot,1,1,", "C,rgb,3-slot,1,3,"));
        Assert.Equal(PatchCheck.AddressOverlap, finding.Id);
    }

    [Theory]
    [InlineData("B,rgb,3-slot,1,9,A", "units 'B' and 'A' are said to share, but are at 1.009 and 1.001")]
    [InlineData("B,drgb,4-slot,1,1,A", "units 'B' and 'A' share 1.001, but are not of one type and mode ('drgb' '4-slot', 'rgb' '3-slot')")]
    [InlineData("B,rgb,3-slot,1,9,AA", "unit 'B' is said to share with 'AA', which is not on the sheet")]
    public void A_shared_pair_that_does_not_agree_is_said(string row, string text)
    {
        PatchFinding finding = Assert.Single(Check("A,rgb,3-slot,1,1,", row));
        Assert.Equal((PatchCheck.SharedAddress, PatchSeverity.Warning, text), (finding.Id, finding.Severity, finding.Text));
    }

    [Fact]
    public void A_footprint_past_slot_512_is_a_fault_with_the_last_address_that_fits()
    {
        PatchFinding finding = Assert.Single(Check("A,wash10,10-slot,1,504,"));
        Assert.Equal((PatchCheck.FootprintPast512, "unit 'A' at 1.504 takes 10 slots and would end at 513, past slot 512"), (finding.Id, finding.Text));
        Assert.StartsWith("move it to address 503 or lower", finding.Action, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("LX1\u001B[2J")]
    [InlineData("LX1\u0007")]
    [InlineData("LX1\u009B")]
    [InlineData("LX1\u200B")]
    [InlineData("\u202ELX1")]
    [InlineData("LX1\u2028")]
    public void A_name_with_characters_that_do_not_show_is_a_fault_and_they_are_written_out(string name)
    {
        PatchSheet sheet = new([new PatchUnit(name, "dimmer", "1-slot", 1, 1, "", "", "", [], "", 4)]);
        PatchFinding finding = Assert.Single(PatchCheck.Check(sheet, Sheets.Charts));
        Assert.Equal((PatchCheck.HiddenCharacters, PatchSeverity.Fault, 4), (finding.Id, finding.Severity, finding.Line));
        Assert.Contains("\\u", finding.Text, StringComparison.Ordinal);
        Assert.DoesNotContain(name, finding.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Letters_of_any_script_are_no_hidden_characters() =>
        Assert.Empty(Check("Büh-3 Öst,dimmer,1-slot,1,1,", "灯1,dimmer,1-slot,1,2,"));

    [Fact]
    public void A_name_used_twice_is_a_fault()
    {
        PatchFinding finding = Assert.Single(Check("A,dimmer,1-slot,1,1,", "a,dimmer,1-slot,1,2,"));
        Assert.Equal((PatchCheck.DuplicateUnit, 3, "unit 'a' is on the sheet twice, on lines 2 and 3"), (finding.Id, finding.Line, finding.Text));
    }

    [Theory]
    [InlineData("A,wash11,10-slot,1,1,", PatchCheck.UnknownType, "did you mean 'wash10'?")]
    [InlineData("A,something else,10-slot,1,1,", PatchCheck.UnknownType, "add the chart, or correct the type")]
    [InlineData("A,wash10,10slot,1,1,", PatchCheck.UnknownMode, "did you mean '10-slot'?")]
    [InlineData("A,wash10,extended,1,1,", PatchCheck.UnknownMode, "the chart has '10-slot'")]
    public void What_has_no_chart_is_a_fault_and_the_nearest_is_offered(string row, string id, string action)
    {
        PatchFinding finding = Assert.Single(Check(row));
        Assert.Equal((id, action), (finding.Id, finding.Action));
    }

    [Fact]
    public void A_universe_that_is_not_captured_is_one_finding_for_all_its_units()
    {
        PatchSheet sheet = Sheets.Of("A,dimmer,1-slot,1,1,", "B,dimmer,1-slot,2,1,", "C,dimmer,1-slot,2,2,", "D,dimmer,1-slot,3,1,");
        Dictionary<int, UniverseFacts> captured = new() { [1] = new(true, 512), [2] = new(false, 0) };
        PatchFinding finding = Assert.Single(PatchCheck.Check(sheet, Sheets.Charts, captured));
        Assert.Equal(PatchCheck.UniverseNotCaptured, finding.Id);
        Assert.Equal(["B", "C"], finding.Units);
    }

    [Fact]
    public void A_universe_that_carries_no_levels_is_one_warning_and_holds_nobody_to_slots()
    {
        PatchSheet sheet = Sheets.Of("A,dimmer,1-slot,1,1,", "B,dimmer,1-slot,1,2,");
        PatchFinding finding = Assert.Single(PatchCheck.Check(sheet, Sheets.Charts, new Dictionary<int, UniverseFacts> { [1] = new(true, 0) }));
        Assert.Equal((PatchCheck.UniverseWithoutLevels, PatchSeverity.Warning), (finding.Id, finding.Severity));
        Assert.Equal(["A", "B"], finding.Units);
    }

    [Fact]
    public void A_unit_beyond_the_slots_sent_is_a_fault_from_its_first_missing_slot()
    {
        PatchSheet sheet = Sheets.Of("A,wash10,10-slot,1,91,", "B,wash10,10-slot,1,101,");
        Assert.Empty(PatchCheck.Check(sheet, Sheets.Charts, new Dictionary<int, UniverseFacts> { [1] = new(true, 110) }));
        PatchFinding finding = Assert.Single(PatchCheck.Check(sheet, Sheets.Charts, new Dictionary<int, UniverseFacts> { [1] = new(true, 109) }));
        Assert.Equal((PatchCheck.BeyondSlotsSent, "unit 'B' at 1.101 needs slots up to 110, but at most 109 are sent"), (finding.Id, finding.Text));
    }

    [Fact]
    public void Names_are_escaped_in_sentences_and_verbatim_in_the_list()
    {
        PatchFinding finding = Assert.Single(Check("A\u001b[2J\u202E,none,m,1,1,"), each => each.Id == PatchCheck.UnknownType);
        Assert.Equal("unit 'A\\u001B[2J\\u202E': there is no chart for type 'none'; its footprint is taken as 1 slot", finding.Text);
        Assert.Equal("A\u001b[2J\u202E", Assert.Single(finding.Units));
    }

    [Fact]
    public void Twenty_thousand_units_on_one_address_are_checked_at_once_and_told_up_to_a_bound()
    {
        string[] rows = [.. Enumerable.Range(0, PatchReader.MaxUnits).Select(i => $"U{i},dimmer,1-slot,1,1,")];
        Assert.Equal(PatchCheck.MaxFindings, Check(rows).Count);
        string[] shared = [.. Enumerable.Range(0, PatchReader.MaxUnits).Select(i => $"U{i},dimmer,1-slot,1,1,U{Math.Max(i - 1, 0)}")];
        Assert.Empty(Check(shared));
    }

    private static IReadOnlyList<PatchFinding> Check(params string[] rows) => PatchCheck.Check(Sheets.Of(rows), Sheets.Charts);
}
