using DmxProbe.Analysis.Compare;
using DmxProbe.Analysis.Compare.Links;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Gateways;
using DmxProbe.Testing.Network;
using DmxProbe.Testing.Serial;

namespace DmxProbe.Analysis.Tests.Compare;

/// <summary>Against a simulated gateway with a wireless link behind it, whose faults are planted.</summary>
public class LinkComparerTests
{
    private const long Second = 1_000_000_000;
    private const long Frame = 25_000_000;
    private const long Zero = 1_700_000_000_000_000_000;

    private static readonly IReadOnlyList<(long From, long Length)> Planted = PlantedLink.Freezes;

    [Fact]
    public void Each_planted_freeze_is_found_and_no_other_with_times_within_a_frame()
    {
        SimulatedGateway gateway = Gateway();
        SimulatedLink link = new() { Freezes = Planted };
        LinkComparison found = Compare(gateway, link, 50 * Second);
        Assert.Equal(new UniverseId(UniverseProtocol.Sacn, 1), found.Near);
        Assert.Equal(Planted.Count, found.FreezeCount);
        for (int i = 0; i < Planted.Count; i++)
        {
            LinkFreeze freeze = found.Freezes[i];
            Assert.InRange(freeze.From.UnixNanoseconds - Zero - Planted[i].From, -Frame, 2 * Frame);
            Assert.InRange(freeze.To.UnixNanoseconds - Zero - Planted[i].From - Planted[i].Length, 0, Frame);
            Assert.False(freeze.IsSilent);
        }

        Assert.Equal(Planted.Max(each => each.Length) / 1e6, found.LongestFreeze!.Value.Length.TotalMilliseconds, 30.0);
        Assert.Empty(found.Detours);
        Assert.Equal(0, found.DifferingSlotCount);
        Assert.Equal(0, found.MissingFrames);
        Assert.InRange(found.Latency!.Median.TotalMilliseconds, 15, 55);
    }

    [Fact]
    public void A_good_link_has_no_faults_whatever_its_rate()
    {
        foreach (long tick in new[] { 22_700_000L, 25_000_000, 33_000_000, 45_000_000 })
        {
            LinkComparison found = Compare(Gateway(), new SimulatedLink { Tick = tick }, 20 * Second);
            Assert.False(found.HasFaults, $"{tick}: {found.FreezeCount} freezes, {found.Detours.Count} detours, {found.DifferingSlotCount} slots");
            Assert.InRange(found.FarHz!.Value, (1e9 / tick) - 0.5, (1e9 / tick) + 0.5);
        }
    }

    [Fact]
    public void Another_transmitter_that_it_follows_is_told_with_its_time_and_named_where_it_was_heard()
    {
        SimulatedGateway gateway = Gateway();
        byte[] others = new byte[512];
        SimulatedLink link = new()
        {
            Detours = [(8 * Second, 2 * Second)],
            Other = time =>
            {
                gateway.Senders[1].Levels(time - 30_000_000, others);
                return others;
            },
        };
        LinkComparison found = Compare(gateway, link, 20 * Second);
        LinkDetour detour = Assert.Single(found.Detours);
        Assert.InRange(detour.From.UnixNanoseconds - Zero - (8 * Second), 0, Frame);
        Assert.InRange(detour.To.UnixNanoseconds - Zero - (10 * Second), 0, Frame);
        Assert.Equal("'other' on sACN 2", detour.Who);
        Assert.Equal(0, found.FreezeCount);

        Random random = new(4);
        SimulatedLink unheard = new() { Detours = [(8 * Second, 2 * Second)], Other = _ => Noise(random) };
        Assert.Equal("", Assert.Single(Compare(Gateway(), unheard, 20 * Second).Detours).Who);
    }

    [Fact]
    public void A_silence_is_a_freeze_that_sent_nothing_and_lost_packets_are_counted()
    {
        SimulatedLink link = new() { Silences = [(9 * Second, 500_000_000)], Lost = new HashSet<int> { 100, 200, 201, 300 } };
        LinkComparison found = Compare(Gateway(), link, 20 * Second);
        LinkFreeze freeze = Assert.Single(found.Freezes);
        Assert.True(freeze.IsSilent);
        Assert.InRange(freeze.Length.TotalMilliseconds, 440, 540);
        Assert.Equal(4 + (500_000_000 / Frame), found.MissingFrames);
    }

    [Fact]
    public void Slots_that_always_differ_and_slots_that_once_did_are_named_and_hide_nothing_else()
    {
        SimulatedLink link = new()
        {
            Freezes = [(9 * Second, 400_000_000)],
            Alter = (number, slots) =>
            {
                slots[99] = 7;
                slots[100] = 9;
                slots[511] = number == 150 ? (byte)(slots[511] ^ 0x40) : slots[511];
            },
        };
        LinkComparison found = Compare(Gateway(), link, 20 * Second);
        Assert.Equal([100, 101, 512], found.DifferingSlots.Select(slot => (int)slot.Value));
        Assert.Equal(1, found.DifferingSlots[2].Count);
        Assert.Single(found.Freezes);
        Assert.Empty(found.Detours);
    }

    [Fact]
    public void With_a_clock_each_freezes_are_found_too()
    {
        LinkComparison found = Compare(Gateway(), new SimulatedLink { Freezes = Planted, ClockOffset = -5_000 * Second }, 50 * Second);
        Assert.False(found.SameClock);
        Assert.Equal(Planted.Count, found.FreezeCount);
        Assert.Equal(Duration.Zero, found.Latency!.Minimum);
    }

    [Fact]
    public void Two_taps_of_a_network_are_held_against_each_other()
    {
        TapRecording tap = GatewayComparerTests.Record(Gateway().Run(10 * Second).Network);
        foreach (LinkComparison found in LinkComparer.Compare(tap, tap))
        {
            Assert.Equal(found.Far, found.Near);
            Assert.False(found.HasFaults);
            Assert.Equal(found.Changes, found.ChangesPassed);
            Assert.Equal(Duration.Zero, found.Latency!.Maximum);
        }
    }

    [Fact]
    public void A_sender_whose_levels_never_change_is_itself()
    {
        SimulatedGateway gateway = new(21);
        gateway.Senders.Add(new GatewaySender("still", 1, 100, Levels.Constant(1, 2, 3)));
        TapRecording tap = GatewayComparerTests.Record(gateway.Run(5 * Second).Network);
        LinkComparison found = Assert.Single(LinkComparer.Compare(tap, tap));
        Assert.Equal(found.Far, found.Near);
        Assert.False(found.HasFaults);
    }

    [Fact]
    public void A_line_of_another_show_is_matched_to_none()
    {
        TapRecording near = GatewayComparerTests.Record(Gateway().Run(10 * Second).Network);
        SimulatedGateway elsewhere = new(3);
        elsewhere.Senders.Add(new GatewaySender("main", 1, 100, Levels.Steps(77, 40_000_000)));
        LinkComparison found = Assert.Single(LinkComparer.Compare(near, GatewayComparerTests.Record(elsewhere.Run(10 * Second).Line)));
        Assert.Null(found.Near);
    }

    [Fact]
    public void Frames_lost_behind_the_link_are_counted_by_sequence_less_those_that_never_went_in()
    {
        // 12 % in all, one burst of 24 among them: no steady rate.
        HashSet<int> lost = [.. Enumerable.Range(60, 24), .. Enumerable.Range(0, 24).Select(i => 100 + (11 * i))];
        HashSet<int> before = [20, 21, 40];
        LinkComparison found = Between(before, new HashSet<int>([.. before, .. lost]), 30_000_000);
        Assert.True(found.IsMissingBySequence);
        Assert.Equal(48, found.MissingFrames);
        Assert.Equal(Duration.Zero, found.Lead);
        Assert.Equal(30, found.Latency!.Median.TotalMilliseconds, 0.5);
        Assert.Equal(0, found.DifferingSlotCount);
    }

    [Fact]
    public void Inputs_named_the_wrong_way_round_are_told_by_the_second_that_leads()
    {
        HashSet<int> lost = [.. Enumerable.Range(60, 24), .. Enumerable.Range(0, 24).Select(i => 100 + (11 * i))];
        LinkComparison found = Between(lost, [], -30_000_000);
        Assert.Equal(30, found.Lead.TotalMilliseconds, 0.5);
        Assert.InRange(found.Changes, 300, 400);
        Assert.Equal(found.Changes, found.ChangesPassed);
        Assert.Contains("the other way round", found.Action, StringComparison.Ordinal);
    }

    // The same packets at two taps: 20 slots that change in every frame, levels that come again and again.
    private static LinkComparison Between(HashSet<int> lostBefore, HashSet<int> lostBehind, long later)
    {
        SimulatedGateway gateway = new(21);
        gateway.Senders.Add(new GatewaySender("main", 1, 100, (time, target) =>
        {
            target.Clear();
            for (int slot = 0; slot < 20; slot++)
            {
                target[slot] = (byte)(((time / 23_000_000 * 7) + (slot * 13)) & 0xFF);
            }
        }));
        TapRecording near = GatewayComparerTests.Record(new PartOf(gateway.Run(10 * Second).Network, lostBefore, Math.Max(0, -later)));
        TapRecording far = GatewayComparerTests.Record(new PartOf(gateway.Run(10 * Second).Network, lostBehind, Math.Max(0, later)));
        return Assert.Single(LinkComparer.Compare(near, far));
    }

    private sealed class PartOf(ICaptureSource inner, HashSet<int> lost, long later) : ICaptureSource
    {
        public string Name => inner.Name;

        public IReadOnlyList<CaptureInterface> Interfaces => inner.Interfaces;

        public InputProblem? Problem => inner.Problem;

        public ReadStatus Read(out CaptureRecord record)
        {
            ReadStatus status;
            do
            {
                status = inner.Read(out record);
            }
            while (status == ReadStatus.Record && lost.Contains((int)record.Number));
            record = record with { Time = record.Time + Duration.FromNanoseconds(later) };
            return status;
        }

        public void Dispose() => inner.Dispose();
    }

    private static byte[] Noise(Random random)
    {
        byte[] slots = new byte[512];
        random.NextBytes(slots);
        return slots;
    }

    private static SimulatedGateway Gateway()
    {
        SimulatedGateway gateway = new(21);
        gateway.Senders.Add(new GatewaySender("main", 1, 100, Levels.Steps(1, 30_000_000)));
        gateway.Senders.Add(new GatewaySender("other", 2, 100, Levels.Steps(2, 30_000_000)));
        return gateway;
    }

    private static LinkComparison Compare(SimulatedGateway gateway, SimulatedLink link, long duration)
    {
        (SimulatedSource network, _) = gateway.Run(duration);
        SerialRecords far = link.Run(gateway.LinePackets);
        return Assert.Single(LinkComparer.Compare(GatewayComparerTests.Record(network), GatewayComparerTests.Record(far)));
    }
}
