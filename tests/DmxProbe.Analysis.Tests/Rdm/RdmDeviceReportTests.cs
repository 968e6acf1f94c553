using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Locate;
using DmxProbe.Analysis.Rdm;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.Rdm;

namespace DmxProbe.Analysis.Tests.Rdm;

/// <summary>Which places RDM supports for a unit that is to be located.</summary>
public sealed class RdmDeviceReportTests
{
    private static readonly UniverseId Wire = new(UniverseProtocol.ArtNet, 0);
    private static readonly UniverseId Elsewhere = new(UniverseProtocol.Sacn, 2);
    private static readonly ChartMode[] Modes = [new("10 slot", [], 10), new("6 slot", [], 6)];
    private static readonly ChartSet Charts = new([new Chart("wash", Modes)]);
    private static readonly PatchSheet Sheet = PatchReader.Read(new StringReader("unit,type,mode,universe,address\nA,wash,10 slot,1,1\nB,wash,10 slot,1,13\nC,wash,10 slot,1,61\n")).Sheet!;

    [Fact]
    public void A_label_or_a_UID_names_the_device()
    {
        RdmDevice labelled = Device(7, 16, 6) with { Label = "c" };
        LocateReport report = Assert.Single(For([labelled, Device(8, 300, 10)], null));
        Assert.Equal((true, RdmDeviceReport.Labelled), (report.IsIdentified, report.Trust));
        Assert.Equal([new Hypothesis(0, 16, 1)], report.Places);
        Assert.Contains("7FF0:00000007 'c', which carries the unit's name, reports Art-Net 0:0:0 = Port-Address 0 slot 016 with 6 slots", report.Text, StringComparison.Ordinal);
        report = Assert.Single(For([labelled, Device(8, 300, 10)], new RdmUid(0x7FF0_0000_0008)));
        Assert.Equal((RdmDeviceReport.Told, 300), (report.Trust, Assert.Single(report.Places).Address));
        Assert.Empty(For([labelled], new RdmUid(9)));
    }

    [Fact]
    public void Else_it_may_be_a_device_that_stands_for_no_other_unit()
    {
        // At A's place, at B's place in B's other mode, of another size, with B's label: none of these is C.
        LocateReport report = Assert.Single(For([Device(1, 1, 10), Device(2, 13, 6), Device(3, 200, 4), Device(4, 99, 10) with { Label = "B" }, Device(5, 16, 10)], null));
        Assert.Equal((false, RdmDeviceReport.Unclaimed), (report.IsIdentified, report.Trust));
        Assert.Equal([new Hypothesis(0, 16, 0)], report.Places);
        Assert.Empty(For([Device(1, 1, 10)], null));
        Assert.Empty(For([], null));
    }

    [Fact]
    public void A_device_on_a_line_may_read_any_universe_and_one_elsewhere_none()
    {
        RdmDevice online = Device(5, 16, 10) with { Universe = new UniverseId(UniverseProtocol.Line, 0), Label = "C" };
        Assert.Equal([new Hypothesis(0, 16, 0), new Hypothesis(1, 16, 0)], Assert.Single(For([online], null)).Places);
        Assert.Empty(For([online with { Universe = new UniverseId(UniverseProtocol.ArtNet, 9) }], null));
    }

    private static RdmDevice Device(uint number, int address, int footprint) => RdmSheetCheckTests.Device(number, address, footprint);

    private static IReadOnlyList<LocateReport> For(RdmDevice[] devices, RdmUid? uid) => RdmDeviceReport.For(
        new RdmSnapshot(devices, [], 0), Sheet, Charts, Sheet.Find("C")!, Modes, [Wire, Elsewhere], new Dictionary<int, UniverseId> { [1] = Wire, [2] = Elsewhere }, uid);
}
