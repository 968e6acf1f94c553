using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Rdm;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.Rdm;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Tests.Rdm;

/// <summary>RDM devices against a patch sheet. The human errors are common practice, no source.</summary>
public sealed class RdmSheetCheckTests
{
    private static readonly UniverseId Wire = new(UniverseProtocol.ArtNet, 0);
    private static readonly Dictionary<int, UniverseId> Map = new() { [1] = Wire };
    private static readonly ChartSet Charts = new([new Chart("wash", [new ChartMode("10 slot", [], 10), new ChartMode("6 slot", [], 6)])]);

    [Fact]
    public void Devices_at_their_places_are_nothing_to_tell()
    {
        RdmSheetResult result = Compare(Device(1, 1, 10), Device(2, 13, 10), Device(3, 61, 10));
        Assert.Equal((3, 3), (result.AsTheSheetSays, result.Compared));
        Assert.Empty(result.Remarks);
    }

    [Fact]
    public void Swapped_digits_name_the_unit_and_the_setting()
    {
        RdmRemark remark = Assert.Single(Compare(Device(1, 1, 10), Device(2, 13, 10), Device(3, 16, 10)).Remarks);
        Assert.Equal("rdm-address-differs", remark.Id);
        Assert.Equal(["C"], remark.Units);
        Assert.Contains("C is at 1.061 on the sheet; the RDM device 7FF0:00000003, which may be it, reads 1.016 (10 slots): ", remark.Text, StringComparison.Ordinal);
        Assert.Contains("digits", remark.Text, StringComparison.Ordinal);
        Assert.StartsWith("Set C to 061", remark.Action, StringComparison.Ordinal);
    }

    // What to do first: a unit at another place has to be found before its mode can be set.
    [Fact]
    public void A_wrong_address_is_told_before_a_wrong_mode()
    {
        RdmSheetResult result = Compare(Device(1, 1, 10), Device(2, 13, 6), Device(3, 16, 10));
        Assert.Equal(["rdm-address-differs", "rdm-mode-differs"], result.Remarks.Select(remark => remark.Id));
        Assert.Equal((1, 3), (result.AsTheSheetSays, result.Compared));
    }

    [Fact]
    public void A_label_decides_who_a_device_is()
    {
        // By addresses alone 'B' would be the one at 13.
        RdmSheetResult result = Compare(Device(1, 1, 10), Device(2, 13, 10) with { Label = "c" }, Device(3, 300, 10) with { Label = "B" });
        Assert.Equal(["B", "C"], result.Remarks.Where(remark => remark.Id == "rdm-address-differs").Select(remark => remark.Units[0]).Order(StringComparer.Ordinal));
        Assert.All(result.Remarks, remark => Assert.Contains("which carries its name", remark.Text, StringComparison.Ordinal));
    }

    [Fact]
    public void Another_number_of_slots_is_another_mode()
    {
        RdmDevice small = Device(2, 13, 6) with { Personality = 2, Personalities = [new RdmPersonality(2, 6, "Basic\u001b")] };
        RdmRemark remark = Assert.Single(Compare(Device(1, 1, 10), small, Device(3, 61, 10)).Remarks);
        Assert.Equal("rdm-mode-differs", remark.Id);
        Assert.Contains("B at 1.013 takes 6 slots in personality 2 'Basic\\u001B'", remark.Text, StringComparison.Ordinal);
        Assert.Contains("it is in mode '6 slot'", remark.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Strangers_and_missing_units_are_told_apart()
    {
        RdmSheetResult result = Compare(Device(1, 1, 10), Device(2, 17, 4));
        Assert.Equal(["rdm-not-on-sheet", "rdm-not-heard"], result.Remarks.Select(remark => remark.Id));
        Assert.Contains("reads 1.017 (4 slots), where no unit of the sheet starts; the slots are B's (1.013)", result.Remarks[0].Text, StringComparison.Ordinal);
        Assert.Equal(["B", "C"], result.Remarks[1].Units);
    }

    [Fact]
    public void Parts_of_a_device_stand_for_units_of_their_own()
    {
        RdmDevice rack = Device(9, 0, 0) with { SubDevices = [new RdmSubDevice(1, 1, 10), new RdmSubDevice(2, 13, 10), new RdmSubDevice(3, 62, 10)] };
        RdmSheetResult result = Compare(rack);
        Assert.Equal((2, 3), (result.AsTheSheetSays, result.Compared));
        Assert.Contains("the RDM device 7FF0:00000009, part 3, which may be it, reads 1.062", Assert.Single(result.Remarks).Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_line_is_taken_for_the_universe_where_most_devices_fit_or_for_none()
    {
        UniverseId line = new(UniverseProtocol.Line, 0);
        RdmSheetResult result = Compare(Device(1, 1, 10) with { Universe = line }, Device(2, 13, 10) with { Universe = line }, Device(3, 62, 10) with { Universe = line });
        Assert.Equal([(line, 1, false)], result.Taken);
        Assert.Equal("rdm-address-differs", Assert.Single(result.Remarks).Id);
        RdmSheetResult none = Compare(Device(1, 300, 10) with { Universe = line });
        Assert.Equal([line], none.NotCompared);
        Assert.Equal([new UniverseId(UniverseProtocol.ArtNet, 7)], Compare(Device(1, 1, 10) with { Universe = new UniverseId(UniverseProtocol.ArtNet, 7) }).NotCompared);
    }

    internal static RdmDevice Device(uint number, int address, int footprint) => new()
    {
        Universe = Wire,
        Uid = new RdmUid(0x7FF0_0000_0000 | number),
        First = Timestamp.MinValue,
        Last = Timestamp.MinValue,
        FirstRecord = 1,
        IsHeard = true,
        StartAddress = address,
        Footprint = footprint,
    };

    private static RdmSheetResult Compare(params RdmDevice[] devices)
    {
        PatchSheet sheet = PatchReader.Read(new StringReader("unit,type,mode,universe,address\nA,wash,10 slot,1,1\nB,wash,10 slot,1,13\nC,wash,10 slot,1,61\n")).Sheet!;
        return RdmSheetCheck.Compare(new RdmSnapshot(devices, [], 0), sheet, Charts, Map);
    }
}
