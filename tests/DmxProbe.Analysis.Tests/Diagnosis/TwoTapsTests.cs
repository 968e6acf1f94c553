using DmxProbe.Analysis.Compare;
using DmxProbe.Analysis.Compare.Links;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Diagnosis;
using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Tests.Compare;
using DmxProbe.Testing.Gateways;
using DmxProbe.Testing.Network;

namespace DmxProbe.Analysis.Tests.Diagnosis;

/// <summary>What lies between two places, planted in a simulated gateway with a radio link behind it.</summary>
public class TwoTapsTests
{
    private const long Second = 1_000_000_000;

    [Fact]
    public void A_good_way_excludes_what_can_be_wrong_between()
    {
        DiagnosisResult result = Run(new SimulatedLink());
        Assert.DoesNotContain(result.Ranked, report => report.Cause.Card.Group == CauseGroup.Link);
        Assert.Superset(
            new HashSet<string> { "link-freezes", "link-shows-other-levels", "link-alters-slots", "link-leaves-changes-out" },
            result.Excluded.Select(report => report.Cause.Id).ToHashSet(StringComparer.Ordinal));
    }

    [Fact]
    public void A_freeze_is_named_with_its_span()
    {
        CauseReport report = Only(new SimulatedLink { Freezes = [(8 * Second, 700_000_000)] }, "link-freezes");
        Assert.Equal(Severity.Fault, report.Severity);
        Assert.Contains("stands still 1 time while what goes in moves, longest 0.", report.Text, StringComparison.Ordinal);
        CauseEvidence evidence = Assert.Single(report.Evidence);
        Assert.InRange((evidence.To!.Value - evidence.From!.Value).TotalMilliseconds, 650, 800);
        Assert.Equal(new UniverseId(UniverseProtocol.Sacn, 1), report.Universe);
    }

    [Fact]
    public void Another_transmitter_is_named()
    {
        Random random = new(4);
        SimulatedLink link = new()
        {
            Detours = [(8 * Second, 2 * Second)],
            Other = _ =>
            {
                byte[] slots = new byte[512];
                random.NextBytes(slots);
                return slots;
            },
        };
        Assert.Contains("1 time something else comes out than goes in", Only(link, "link-shows-other-levels").Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Slots_that_come_out_changed_are_named() =>
        Assert.Contains("come out other than sent: 100 and 101", Only(new SimulatedLink { Alter = (_, slots) => (slots[99], slots[100]) = (7, 9) }, "link-alters-slots").Text, StringComparison.Ordinal);

    [Fact]
    public void A_late_way_is_named()
    {
        CauseReport report = Only(new SimulatedLink { Delay = 150_000_000 }, "gateway-latency");
        Assert.Equal(Severity.Fault, report.Severity);
        Assert.Equal("40 ms", report.Evidence[0].Limit);
    }

    // By hand: 20 of 1,000 missing at the far side and 5 at the near side already: 15 on the way = 1.5 %.
    [Fact]
    public void Packets_lost_on_the_way_are_those_that_the_near_side_still_had()
    {
        SenderSummary sender = new() { Index = 0, Protocol = UniverseProtocol.Sacn, Name = "main", Address = "10.0.0.10", Addresses = ["10.0.0.10"] };
        TapLoss loss = new(new UniverseId(UniverseProtocol.Sacn, 1), sender, 995, 980, 5, 20);
        Assert.Equal(15, loss.OnTheWay);
        Assert.Equal(0.015, loss.Share, 12);
        Assert.Equal(0, (loss with { LostFar = 2 }).OnTheWay); // the near tap missed more than the way lost
        DiagnosisResult result = Run(new TwoTaps("desk", "gateway") { Losses = [loss] });
        CauseReport report = Assert.Single(result.Ranked, each => each.Cause.Id == "lost-on-the-way");
        Assert.Equal(Severity.Fault, report.Severity);
        Assert.Contains("loses 15 of 1,000 packets (1.5 %)", report.Text, StringComparison.Ordinal);

        CauseReport gone = Assert.Single(Run(new TwoTaps("desk", "gateway") { Losses = [loss with { Far = 0, LostFar = 0 }] }).Ranked, each => each.Cause.Id == "lost-on-the-way");
        Assert.Equal(CauseState.Likely, gone.State);
        Assert.Contains("does not arrive: 995 packets at desk, none at gateway", gone.Text, StringComparison.Ordinal);
        Assert.Contains(Run(new TwoTaps("desk", "gateway") { Losses = [loss with { LostFar = 5 }] }).Excluded, each => each.Cause.Id == "lost-on-the-way");
    }

    [Fact]
    public void Damage_between_two_places_of_a_line_is_named()
    {
        SegmentComparison segment = new() { Start = new UniverseId(UniverseProtocol.Line, 0), End = new UniverseId(UniverseProtocol.Line, 1), IsAligned = true, Packets = 1_000, DamagedAtEnd = 4 };
        CauseReport report = Assert.Single(Run(new TwoTaps("start", "end") { Segments = [segment] }).Ranked, each => each.Cause.Id == "damaged-on-the-way");
        Assert.Equal(Severity.Fault, report.Severity);
        Assert.Contains("of 1,000 packets that leave whole, 4 arrive damaged", report.Text, StringComparison.Ordinal);
        Assert.Contains(Caution.Unplugging, report.WhatToMind);
    }

    [Fact]
    public void Without_two_taps_nothing_between_is_excluded()
    {
        DiagnosisResult result = Run((TwoTaps?)null);
        Assert.All(AllCauses.List.Where(cause => cause.Card.Group == CauseGroup.Link), cause =>
            Assert.Equal(CauseInputs.TwoTaps, Assert.Single(result.CannotTell, report => report.Cause == cause).Missing));
    }

    private static CauseReport Only(SimulatedLink link, string id) =>
        Assert.Single(Run(link).Ranked, report => report.Cause.Card.Group == CauseGroup.Link && report.Cause.Id == id);

    private static DiagnosisResult Run(SimulatedLink link)
    {
        SimulatedGateway gateway = new(21);
        gateway.Senders.Add(new GatewaySender("main", 1, 100, Levels.Steps(1, 30_000_000)));
        TapRecording near = GatewayComparerTests.Record(gateway.Run(20 * Second).Network);
        return Run(new TwoTaps("network", "receiver") { Links = [.. LinkComparer.Compare(near, GatewayComparerTests.Record(link.Run(gateway.LinePackets)))] });
    }

    private static DiagnosisResult Run(TwoTaps? taps) =>
        Diagnoser.Run(new DiagnosisCase(new SurveySnapshot { Inputs = [], Universes = [], Nodes = [], Discovery = [], Findings = [] }, []) { Taps = taps });
}
