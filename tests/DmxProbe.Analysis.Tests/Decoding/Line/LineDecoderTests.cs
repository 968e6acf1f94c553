using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Decoding.Line;
using DmxProbe.Protocols.Dmx512;
using DmxProbe.Testing.Line;
using DmxProbe.Testing.Measuring;

namespace DmxProbe.Analysis.Tests.Decoding.Line;

public class LineDecoderTests
{
    private const long Fine = 12_000_000;
    private const long Controller = 0x7FF012345678;
    private const long Device = 0x7FF000000001;

    // standards-facts A12.1 (constructed): 92 low, 12 high, 513 characters of 44 us: 22,676 us from break to break.
    [Fact]
    public void The_shortest_legal_full_packet_has_the_period_of_the_arithmetic()
    {
        LineForm form = new() { Break = 92, MarkAfterBreak = 12, MarkBeforeBreak = 0 };
        LineRun run = Decode(1_000_000, line => Repeat(line.Idle(50), 4, () => line.Levels(form, new byte[512])));
        Assert.Equal(4, run.Frames.Count);
        Assert.All(run.Timings.Take(3), timing =>
        {
            Assert.Equal(92, timing.Break, 6);
            Assert.Equal(12, timing.MarkAfterBreak, 6);
            Assert.Equal(22_676, timing.BreakToBreak, 6);
            Assert.Equal(4, timing.BitTime, 6);
            Assert.Equal(0, timing.InterSlotMost, 6);
        });
        Assert.All(run.Frames, frame => Assert.Equal(512, frame.Slots.Length));
    }

    // standards-facts F4.1: the run lengths of the constructed VCD, read by an independent tool with exactly these.
    [Fact]
    public void The_constructed_check_recording_reads_as_published()
    {
        LineSignal signal = new();
        foreach ((bool mark, int us) in new[] { (true, 20), (false, 92), (true, 12), (false, 36), (true, 8), (false, 4), (true, 40) })
        {
            signal.Hold(mark, us * 1000.0);
        }

        LineRun run = LineRun.Of(new LineRecording(1_000_000, [new LineTrack("data", signal)]).Open());
        (_, byte startCode, byte[] slots, FrameFlags flags, _) = Assert.Single(run.Frames);
        Assert.Equal(0, startCode);
        Assert.Equal([0xFF], slots);
        Assert.Equal(FrameFlags.SlotsCut, flags);
        LineTiming timing = Assert.Single(run.Timings);
        Assert.Equal((92.0, 12.0), (timing.Break, timing.MarkAfterBreak));
    }

    [Fact]
    public void Every_octet_is_read_at_every_rate()
    {
        byte[] slots = [.. Enumerable.Range(0, 512).Select(slot => unchecked((byte)(slot * 7)))];
        foreach (long rate in new[] { 1_000_000L, 2_000_000, 4_000_000, 12_000_000, 24_000_000, 100_000_000 })
        {
            foreach (double bit in new[] { 3.93, 4.0, 4.07 })
            {
                LineForm form = new() { Bit = bit, InterSlot = 3 };
                LineRun run = Decode(rate, line => Repeat(line.Idle(77.7), 3, () => line.Levels(form, slots)));
                Assert.Equal(3, run.Frames.Count);
                Assert.All(run.Frames, frame => Assert.Equal(slots, frame.Slots));
                Assert.DoesNotContain(run.Timings, timing => timing.FramingErrors > 0);
                Assert.All(run.Timings, timing => Assert.Equal(bit, timing.BitTime, 2.0 / 44));
            }
        }
    }

    [Fact]
    public void The_result_does_not_depend_on_how_the_recording_is_cut_into_records()
    {
        LineSynthesiser line = new(5);
        LineForm form = new() { Jitter = 0.3, Skew = 0.2, InterSlot = 5, GlitchChance = 0.01, LostStopChance = 0.005 };
        Repeat(line.Idle(500), 12, () => line.Levels(form, Ramp(100)));
        LineRecording recording = new(Fine, [new LineTrack("D", line.Signal), new LineTrack("D/", line.Signal, IsInverted: true)]);
        LineRun whole = LineRun.Of(recording.Open(edgesPerRun: 1_000_000));
        foreach (int edges in new[] { 1, 3, 64, 1_000 })
        {
            LineRun cut = LineRun.Of(recording.Open(edges));
            Assert.Equal(whole.Frames.Select(frame => (frame.Time, Convert.ToHexString(frame.Slots))), cut.Frames.Select(frame => (frame.Time, Convert.ToHexString(frame.Slots))));
            Assert.Equal(whole.Timings.Select(timing => timing with { Record = 0 }), cut.Timings.Select(timing => timing with { Record = 0 }));
            Assert.Equal(whole.Events.Select(each => each with { Record = 0 }), cut.Events.Select(each => each with { Record = 0 }));
        }
    }

    [Fact]
    public void Two_channels_of_opposite_polarity_are_one_pair_and_the_leg_with_mark_high_is_decoded()
    {
        LineSynthesiser line = new(6);
        Repeat(line.Idle(500), 30, () => line.Levels(new LineForm(), Ramp(64)));
        LineRecording recording = new(
            1_000_000, [new LineTrack("B", line.Signal, IsInverted: true), new LineTrack("A", line.Signal), new LineTrack("spare", new LineSignal())]);
        LineRun run = LineRun.Of(recording.Open());
        Assert.Equal(30, run.Frames.Count);
        Assert.Equal([LineChannelUse.OtherLeg, LineChannelUse.Decoded, LineChannelUse.Silent], run.Channels.Select(channel => channel.Use));
        Assert.Equal(("A", LinePolarity.MarkHigh, "B"), (run.Channels[1].Name, run.Channels[1].Polarity, run.Channels[1].Partner));
        Assert.Equal("line A", run.Channels[1].Line!.Value.Label);
    }

    [Fact]
    public void Two_lines_are_two_universes_and_one_asked_for_is_one()
    {
        LineSynthesiser left = new(7);
        LineSynthesiser right = new(8);
        Repeat(left.Idle(500), 20, () => left.Levels(new LineForm(), Ramp(64)));
        Repeat(right.Idle(900), 20, () => right.Levels(new LineForm { MarkBeforeBreak = 731 }, 1, 2, 3));
        LineRecording recording = new(2_000_000, [new LineTrack("left", left.Signal), new LineTrack("right", right.Signal)]);
        LineRun both = LineRun.Of(recording.Open());
        Assert.Equal(["line A", "line B"], both.Frames.Select(frame => frame.Universe.Label).Distinct().Order());
        LineRun one = LineRun.Of(recording.Open(), new LineOptions { Channels = ["RIGHT"] });
        Assert.All(one.Frames, frame => Assert.Equal([1, 2, 3], frame.Slots));
        Assert.Equal(LineChannelUse.NotAsked, one.Channels[0].Use);
    }

    // trade.md C4 (computed; two public threads show the same values): 254 - 4 (b mod 64), framing error where bit 6 is set.
    [Fact]
    public void A_reversed_pair_is_named_decoded_and_read_the_wrong_way_round_gives_the_exact_signature()
    {
        byte[] slots = [.. Enumerable.Range(0, 256).Select(value => (byte)value)];
        LineSynthesiser line = new(9);
        Repeat(line.Idle(2_000), 6, () => line.Levels(new LineForm { MarkBeforeBreak = 1_000 }, slots));
        LineRecording recording = new(Fine, [new LineTrack("rx", line.Signal, IsInverted: true)]);

        LineRun found = LineRun.Of(recording.Open());
        Assert.Equal(LinePolarity.MarkLow, found.Channels[0].Polarity);
        Assert.Equal(6, found.Frames.Count);
        Assert.All(found.Frames, frame => Assert.Equal(slots, frame.Slots));

        LineRun told = LineRun.Of(recording.Open(), new LineOptions { Polarity = LinePolarity.MarkHigh });
        Assert.True(told.Channels[0].IsPolarityDoubtful);
        (int Value, bool Error)[] expected = [.. slots.Select(sent => ((int)ReversedPair.Received(sent, out bool error), error))];

        // Until the first slot with bit 6 set the characters stay in step with those sent.
        byte[] read = [.. told.Frames.First(frame => frame.Slots.Length > 100).Slots];
        int at = read.AsSpan().IndexOf((byte)0xFA);
        Assert.Equal(expected.Skip(1).Take(62).Select(each => (byte)each.Value), read.AsSpan(at, 62).ToArray());
        Assert.All(expected.Take(64), each => Assert.False(each.Error));
        Assert.True(expected[64].Error);
    }

    [Fact]
    public void Values_that_read_well_both_ways_round_are_read_the_right_way()
    {
        foreach (bool inverted in new[] { false, true })
        {
            LineSynthesiser line = new(10);
            Repeat(line.Idle(2_000), 6, () => line.Levels(new LineForm { MarkBeforeBreak = 1_000 }, new byte[512]));
            LineRun run = LineRun.Of(new LineRecording(1_000_000, [new LineTrack("x", line.Signal, inverted)]).Open());
            Assert.Equal(inverted ? LinePolarity.MarkLow : LinePolarity.MarkHigh, run.Channels[0].Polarity);
            Assert.All(run.Frames, frame => Assert.True(frame.StartCode == 0 && frame.Slots.All(slot => slot == 0)));
        }
    }

    [Fact]
    public void An_RDM_conversation_is_read_with_its_turnaround_and_its_discovery()
    {
        LineForm request = new() { Break = 200, MarkAfterBreak = 20, MarkBeforeBreak = 300 };
        LineForm reply = new() { Break = 180, MarkAfterBreak = 15, MarkBeforeBreak = 1_000 };
        LineSynthesiser line = new(11);
        line.Idle(300)
            .Levels(new LineForm(), Ramp(40))
            .Packet(request with { MarkBeforeBreak = 450 }, RdmOctets.DiscoverAll(Controller))
            .Unbroken(reply, RdmOctets.DiscoveryReply(Device))
            .Packet(request, RdmOctets.GetStartAddress(Device, Controller))
            .Packet(reply, RdmOctets.StartAddressIs(Controller, Device, 101))
            .Levels(new LineForm(), Ramp(40))
            .Idle(2_000);
        LineRun run = LineRun.Of(new LineRecording(4_000_000, [new LineTrack("rdm", line.Signal)]).Open());

        Assert.Equal([0x00, 0xCC, 0xCC, 0xCC, 0x00], run.Frames.Select(frame => (int)frame.StartCode));
        Assert.Equal(line.Sent[1].Octets[1..], run.Frames[1].Slots);
        Assert.Equal(line.Sent[4].Octets[1..], run.Frames[3].Slots);
        LinkEvent answer = Assert.Single(run.Events, each => each.Kind == LinkEventKind.RdmDiscoveryReply);
        Assert.Equal(Device, answer.A);
        LineTiming discovery = Assert.Single(run.Timings, timing => timing.Kind == LinePacketKind.DiscoveryReply);
        Assert.Equal(450, discovery.SincePrevious, 0.5);
        LineTiming response = Assert.Single(run.Timings, timing => timing.Kind == LinePacketKind.RdmResponse);
        Assert.Equal(300, response.SincePrevious, 0.5);
        Assert.True(response.PreviousWantsAnswer);
        Assert.Equal((1L, 0L, 0L), (run.Channels[0].DiscoveryReplies, run.Channels[0].StrayCharacters, run.Channels[0].DamagedRdm));
    }

    [Fact]
    public void Several_answers_at_once_are_a_collision_and_a_wrong_checksum_is_told()
    {
        LineSynthesiser line = new(12);
        byte[] damaged = RdmOctets.GetStartAddress(Device, Controller);
        damaged[^1] ^= 1;
        byte[] garbled = RdmOctets.DiscoveryReply(Device);
        garbled[12] &= 0x33;
        line.Idle(300)
            .Packet(new LineForm { MarkBeforeBreak = 300 }, RdmOctets.DiscoverAll(Controller))
            .Unbroken(new LineForm { MarkBeforeBreak = 6_000 }, garbled)
            .Packet(new LineForm(), damaged)
            .Levels(new LineForm(), Ramp(40))
            .Idle(1_000);
        LineRun run = LineRun.Of(new LineRecording(4_000_000, [new LineTrack("rdm", line.Signal)]).Open());
        Assert.Equal((0L, 1L, 1L), (run.Channels[0].DiscoveryReplies, run.Channels[0].DiscoveryCollisions, run.Channels[0].DamagedRdm));
    }

    [Fact]
    public void Framing_errors_are_told_by_slot_and_no_packet_is_split()
    {
        LineForm form = new() { LostStopChance = 0.002, InterSlot = 0, MarkBeforeBreak = 0 };
        LineSynthesiser line = new(13);
        Repeat(line.Idle(300), 40, () => line.Levels(form, new byte[512]));
        LineRun run = LineRun.Of(new LineRecording(4_000_000, [new LineTrack("x", line.Signal)]).Open());
        Assert.Equal(40, run.Frames.Count);

        // A lost stop bit between slots 00h and 00h makes one long low: a framing error at its place, and one slot fewer.
        int lost = line.Sent.Sum(packet => packet.LostStops.Count);
        Assert.InRange(lost, 20, 80);
        HashSet<int> places = [.. line.Sent.SelectMany(packet => packet.LostStops)];
        Assert.InRange(run.Channels[0].FramingErrors, lost / 2, lost);
        Assert.NotEmpty(run.Channels[0].FramingErrorSlots);
        Assert.Contains(run.Events, each => each.Kind == LinkEventKind.SlotFramingError && places.Contains((int)each.A));
    }

    [Fact]
    public void Glitches_are_counted_and_change_nothing()
    {
        LineForm form = new() { GlitchChance = 0.05, InterSlot = 4 };
        LineSynthesiser line = new(14);
        Repeat(line.Idle(300), 10, () => line.Levels(form, Ramp(200)));
        LineRun run = LineRun.Of(new LineRecording(24_000_000, [new LineTrack("x", line.Signal)]).Open());
        Assert.Equal(10, run.Frames.Count);
        Assert.All(run.Frames, frame => Assert.Equal(Ramp(200), frame.Slots));
        Assert.InRange(run.Channels[0].Glitches, 60, 140);
        Assert.Equal(0, run.Channels[0].FramingErrors);
    }

    [Fact]
    public void Skew_and_bit_time_are_told_apart()
    {
        LineForm form = new() { Bit = 4.03, Skew = 0.6 };
        LineSynthesiser line = new(15);
        Repeat(line.Idle(300), 10, () => line.Levels(form, Ramp(200)));
        LineRun run = LineRun.Of(new LineRecording(Fine, [new LineTrack("x", line.Signal)]).Open());
        Assert.All(run.Timings, timing =>
        {
            Assert.Equal(4.03, timing.BitTime, 0.01);
            Assert.Equal(0.6, timing.Skew, 0.05);
        });
    }

    [Fact]
    public void A_recording_that_begins_and_ends_inside_packets_counts_the_cut_one_as_cut()
    {
        LineSynthesiser line = new(16);
        Repeat(line.Idle(300), 4, () => line.Levels(new LineForm(), Ramp(512)));
        double inFirst = line.Sent[0].FirstStart + 3_000_000;
        double inLast = line.Sent[3].FirstStart + 3_000_000;
        LineRun run = LineRun.Of(new LineRecording(4_000_000, [new LineTrack("x", line.Signal)], inFirst, inLast).Open());
        Assert.Equal([512, 512, 67], run.Frames.Select(frame => frame.Slots.Length));
        Assert.Equal([FrameFlags.None, FrameFlags.None, FrameFlags.SlotsCut], run.Frames.Select(frame => frame.Flags));
        Assert.True(run.Timings[2].IsCut);
        Assert.Equal((3L, 1L), (run.Channels[0].Packets, run.Channels[0].CutPackets));
        Assert.True(run.Channels[0].PulsesBeforeBreak > 0);
    }

    // Upside down the long marks between slots look like breaks: neither leg may be taken for a line by them.
    [Theory]
    [InlineData(20, 1_000_000, 3, 1)]
    [InlineData(60, 4_000_000, 3, 1)]
    [InlineData(0, 10_000_000, 3, 1)]
    [InlineData(20, 4_000_000, 255, 20)] // one slot of 20 at full: few framing errors upside down
    [InlineData(45, 4_000_000, 63, 2)] // no slot with bit 6: none at all
    [InlineData(45, 1_000_000, 0, 1)]
    public void A_pair_cut_before_its_first_break_is_no_packet_on_either_leg(double interSlot, long rate, int step, int every)
    {
        byte[] slots = [.. Enumerable.Range(1, 512).Select(slot => slot % every == 0 ? unchecked((byte)(step == 3 ? slot * 3 : step)) : (byte)0)];
        LineSynthesiser line = new(21);
        Repeat(line.Idle(300), 2, () => line.Levels(new LineForm { InterSlot = interSlot }, slots));
        double from = line.Sent[0].FirstStart + 2_000_000;
        double until = line.Sent[0].End;
        LineTrack up = new("A", line.Signal);
        LineTrack down = new("B", line.Signal, IsInverted: true);
        foreach (LineTrack[] tracks in new LineTrack[][] { [up, down], [down, up], [up], [down] })
        {
            LineRun run = LineRun.Of(new LineRecording(rate, tracks, from, until).Open());
            Assert.Empty(run.Frames);
            Assert.All(run.Channels, channel => Assert.Equal((LineChannelUse.NotDmx, true), (channel.Use, channel.IsWithoutBreak)));

            // With the next packet in it the right leg is read, the right way round.
            LineRun whole = LineRun.Of(new LineRecording(rate, tracks, from).Open());
            Assert.Equal(slots, Assert.Single(whole.Frames).Slots);
            Assert.DoesNotContain(whole.Channels, channel => channel.IsWithoutBreak);
            Assert.Equal(tracks.Length == 2 ? "A" : tracks[0].Name, Assert.Single(whole.Channels, channel => channel.Line is not null).Name);
        }
    }

    [Fact]
    public void Two_transmitters_at_once_leave_framing_errors_and_edges_between_bits()
    {
        LineSynthesiser one = new(17);
        LineSynthesiser other = new(18);
        Repeat(one.Idle(300), 20, () => one.Levels(new LineForm(), Ramp(512)));
        Repeat(other.Idle(1_234), 40, () => other.Levels(new LineForm { MarkBeforeBreak = 3_000, Bit = 4.01 }, Ramp(100)));
        LineRun run = LineRun.Of(new LineRecording(Fine, [new LineTrack("x", LineSignal.Together(one.Signal, other.Signal))]).Open());
        LineChannelSummary channel = run.Channels[0];
        Assert.True(channel.FramingErrors > 0.01 * channel.Characters, $"{channel.FramingErrors} of {channel.Characters}");
        Assert.True(channel.EdgesOffGrid > 0.05 * channel.Pulses, $"{channel.EdgesOffGrid} of {channel.Pulses}");

        LineRun alone = LineRun.Of(new LineRecording(Fine, [new LineTrack("x", one.Signal)]).Open());
        Assert.Equal((0L, 0L), (alone.Channels[0].FramingErrors, alone.Channels[0].EdgesOffGrid));
    }

    [Fact]
    public void Noise_is_no_DMX_and_a_later_line_is_still_found()
    {
        Random random = new(3);
        LineSignal signal = new();
        while (signal.Now < 2.5e9)
        {
            signal.Hold(!signal.IsMark, random.Next(1_500, 40_000));
        }

        LineRun noise = LineRun.Of(new LineRecording(1_000_000, [new LineTrack("x", signal)]).Open());
        Assert.Equal(LineChannelUse.NotDmx, noise.Channels[0].Use);
        Assert.Empty(noise.Frames);

        LineSynthesiser late = new(19);
        late.Idle(5_000_000);
        Repeat(late, 200, () => late.Levels(new LineForm(), Ramp(512)));
        LineRun found = LineRun.Of(new LineRecording(1_000_000, [new LineTrack("early", signal), new LineTrack("late", late.Signal)]).Open());
        Assert.Equal(200, found.Frames.Count);
    }

    [Fact]
    public void Nothing_is_allocated_for_a_packet()
    {
        LineSynthesiser line = new(20);
        Repeat(line.Idle(300), 200, () => line.Levels(new LineForm(), Ramp(512)));
        using LineRecordingSource source = new LineRecording(4_000_000, [new LineTrack("x", line.Signal)]).Open(1_000);
        List<byte[]> records = [];
        while (source.Read(out DmxProbe.Protocols.Records.CaptureRecord record) == DmxProbe.Protocols.Records.ReadStatus.Record)
        {
            records.Add(record.Data.ToArray());
        }

        RecordDecoder decoder = new() { Interfaces = source.Interfaces };
        FanOut sink = new();
        int next = 0;
        void Feed(int count)
        {
            for (int end = next + count; next < end; next++)
            {
                DmxProbe.Protocols.Records.CaptureRecord record = new()
                {
                    Number = next + 1,
                    Time = LineRecordingSource.Start,
                    InterfaceId = 0,
                    Kind = DmxProbe.Protocols.Records.RecordKind.Edges,
                    Data = records[next],
                };
                decoder.Decode(in record, sink);
            }
        }

        Feed(records.Count / 2);
        Assert.Equal(0, Allocations.Least(() => Feed(10)));
        Assert.True(decoder.Lines.Snapshot()[0].Packets > 100);
    }

    private static byte[] Ramp(int slots) => [.. Enumerable.Range(1, slots).Select(slot => unchecked((byte)(slot * 3)))];

    private static void Repeat(LineSynthesiser line, int times, Action once)
    {
        for (int i = 0; i < times; i++)
        {
            once();
        }

        line.Idle(100);
    }

    private static LineRun Decode(long rate, Action<LineSynthesiser> make)
    {
        LineSynthesiser line = new(1);
        make(line);
        line.Packet(new LineForm { Break = 200 });
        line.Idle(20);
        return LineRun.Of(new LineRecording(rate, [new LineTrack("line", line.Signal)]).Open());
    }
}
