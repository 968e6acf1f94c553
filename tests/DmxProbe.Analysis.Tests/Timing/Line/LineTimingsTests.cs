using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Decoding.Line;
using DmxProbe.Analysis.Timing;
using DmxProbe.Analysis.Timing.Line;
using DmxProbe.Testing.Line;

namespace DmxProbe.Analysis.Tests.Timing.Line;

public class LineTimingsTests
{
    private const long Controller = 0x7FF012345678;
    private const long Device = 0x7FF000000001;

    // standards-facts A12.2 and A12.3 (constructed; limits from secondary sources).
    [Theory]
    [InlineData(90, 12, 512, "break", LimitVerdict.OutsideTransmit)]
    [InlineData(93, 13, 24, "breakToBreak", LimitVerdict.Inside)]
    [InlineData(90, 10, 24, "breakToBreak", LimitVerdict.OutsideTransmit)]
    [InlineData(88, 8, 24, "breakToBreak", LimitVerdict.Undecided)] // 1196 us, exactly what a receiver must accept
    [InlineData(88, 8, 23, "breakToBreak", LimitVerdict.OutsideReceive)]
    public void The_check_values_of_the_standard_come_out(double length, double mark, int slots, string quantity, LimitVerdict verdict)
    {
        LineForm form = new() { Break = length, MarkAfterBreak = mark, MarkBeforeBreak = verdict == LimitVerdict.Inside ? 5 : 0 };
        IReadOnlyList<TimingMeasurement> figures = Measure(null, line => Repeat(5, () => line.Levels(form, Ramp(slots))));
        Assert.Equal(verdict, Figure(figures, quantity).Verdict);
    }

    // A12.4: 130 us is too long a break for a test packet and fine for levels; A12.7: 1.01 s is outside transmit, inside receive.
    [Fact]
    public void A_test_packet_has_limits_of_its_own()
    {
        byte[] test = new byte[513];
        test.AsSpan().Fill(0x55);
        LineForm form = new() { Break = 130, MarkBeforeBreak = 50 };
        IReadOnlyList<TimingMeasurement> figures = Measure(null, line => Repeat(5, () => line.Packet(form, test)));
        TimingMeasurement broke = Figure(figures, "break");
        Assert.Equal(("test-packet", LimitVerdict.OutsideTransmit), (broke.Role, broke.Verdict));
        Assert.Equal(LimitVerdict.Inside, Figure(figures, "packetTime").Verdict);
        Assert.Equal(LimitVerdict.Inside, Figure(figures, "markBeforeBreak").Verdict);
        Assert.Equal(88, Figure(figures, "markBeforeBreak").Transmit!.Max);
        Assert.Equal(LimitVerdict.Inside, Figure(Measure(LineRole.Transmitter, line => Repeat(5, () => line.Packet(form, test))), "break").Verdict);
    }

    [Fact]
    public void A_second_and_a_hundredth_between_breaks_is_outside_transmit_and_inside_receive()
    {
        LineForm form = new() { MarkBeforeBreak = 1_008_500 };
        TimingMeasurement figure = Figure(Measure(null, line => Repeat(4, () => line.Levels(form, Ramp(24)))), "breakToBreak");
        Assert.Equal(LimitVerdict.OutsideTransmit, figure.Verdict);
        Assert.Contains("a conforming one still follows", LineAnswer.Of(figure, "break to break"), StringComparison.Ordinal);
    }

    // E1.20 figures of secondary sources: answer within 176 us to 2.0 ms, a controller waits 2.8 ms at least.
    [Theory]
    [InlineData(1_900, LimitVerdict.Inside)]
    [InlineData(2_400, LimitVerdict.OutsideTransmit)]
    [InlineData(3_000, LimitVerdict.OutsideReceive)]
    [InlineData(150, LimitVerdict.OutsideTransmit)]
    public void An_RDM_answer_is_held_against_its_turnaround(double turnaround, LimitVerdict verdict)
    {
        LineForm request = new() { Break = 200, MarkBeforeBreak = turnaround };
        LineForm reply = new() { Break = 200, MarkBeforeBreak = 4_000 };
        IReadOnlyList<TimingMeasurement> figures = Measure(null, line => Repeat(5, () => line
            .Packet(request, RdmOctets.GetStartAddress(Device, Controller))
            .Packet(reply, RdmOctets.StartAddressIs(Controller, Device, 101))));
        TimingMeasurement figure = Figure(figures, "turnaround");
        Assert.Equal((verdict, "rdm-responder", 0xCC), (figure.Verdict, figure.Role, figure.StartCode));
        Assert.Equal(turnaround, figure.Median!.Value, 0.5);
    }

    [Fact]
    public void Requests_without_an_answer_keep_their_distance()
    {
        LineForm soon = new() { Break = 200, MarkBeforeBreak = 2_500 };
        IReadOnlyList<TimingMeasurement> figures = Measure(null, line => Repeat(4, () => line
            .Packet(soon, RdmOctets.GetStartAddress(Device, Controller))
            .Packet(soon, RdmOctets.DiscoverAll(Controller))));
        Assert.Equal(LimitVerdict.OutsideTransmit, Figure(figures, "spacingAfterNoAnswer").Verdict);
        Assert.Equal(LimitVerdict.OutsideTransmit, Figure(figures, "spacingAfterDiscovery").Verdict);
    }

    [Fact]
    public void A_receiver_is_held_against_what_it_must_accept_only()
    {
        LineForm form = new() { Break = 90, MarkAfterBreak = 9 };
        IReadOnlyList<TimingMeasurement> figures = Measure(LineRole.Receiver, line => Repeat(5, () => line.Levels(form, Ramp(100))));
        Assert.All(figures.Where(figure => figure.Packets is not null), figure => Assert.Equal((LimitVerdict.Inside, null), (figure.Verdict, figure.Transmit)));
    }

    [Fact]
    public void Distributions_are_told_beside_least_and_most()
    {
        IReadOnlyList<TimingMeasurement> figures = Measure(null, line =>
        {
            for (int packet = 0; packet < 100; packet++)
            {
                line.Levels(new LineForm { Break = packet < 95 ? 100 : 120 }, Ramp(24));
            }
        });
        TimingMeasurement figure = Figure(figures, "break");
        Assert.Equal((100.0, 100.0, 120.0, 120.0), (figure.Min, figure.Median, figure.P99, figure.Max));
        Assert.Equal(101, figure.Mean!.Value, 0.01);
        Assert.Equal([new DistributionBar(100, 100, 95), new DistributionBar(120, 120, 5)], figure.Histogram);
        Assert.Equal(100, figure.Packets!.Inside);
    }

    [Fact]
    public void No_source_of_a_limit_quotes_a_clause()
    {
        foreach (LineRole role in Enum.GetValues<LineRole>())
        {
            foreach (LineQuantity quantity in Enum.GetValues<LineQuantity>())
            {
                LimitRange? transmit = LineLimits.For(role, quantity, out LimitRange? receive);
                foreach (LimitRange limit in new[] { transmit, receive }.OfType<LimitRange>())
                {
                    Assert.Matches("secondary sources|from memory", limit.Source);
                    Assert.DoesNotMatch("[Cc]lause|[Tt]able|[Ss]ection|\\d\\.\\d+\\.\\d", limit.Source);
                }
            }
        }
    }

    [Fact]
    public void One_packet_outside_is_outside_and_one_inside_is_undecided()
    {
        Assert.Equal(LimitVerdict.OutsideReceive, Figure(Measure(null, line => line.Levels(new LineForm { Break = 80 }, Ramp(24))), "break").Verdict);
        TimingMeasurement inside = Figure(Measure(null, line => line.Levels(new LineForm(), Ramp(24))), "break");
        Assert.Equal((LimitVerdict.Undecided, "too few measurements"), (inside.Verdict, inside.UndecidedAgainst));
    }

    [Fact]
    public void A_line_with_short_pulses_in_every_packet_is_disturbed_and_not_judged()
    {
        LineForm form = new() { Break = 80, GlitchChance = 0.1, GlitchWidth = 0.5 };
        IReadOnlyList<TimingMeasurement> figures = Measure(null, line => Repeat(10, () => line.Levels(form, Ramp(100))));
        Assert.All(figures.Where(figure => figure.Transmit is not null), figure => Assert.Equal((LimitVerdict.Undecided, "the line is disturbed"), (figure.Verdict, figure.UndecidedAgainst)));
    }

    [Fact]
    public void A_line_that_carries_only_a_makers_START_code_is_judged()
    {
        foreach (byte[] octets in new byte[][] { [0xBE, .. Ramp(24)], [0xBE, .. new byte[24]], [0x03, 0xFF], [0xFE, .. Enumerable.Repeat((byte)0xFF, 512), 0] })
        {
            IReadOnlyList<TimingMeasurement> figures = Measure(null, line => Repeat(3, () => line.Packet(new LineForm { Break = 80 }, octets)));
            Assert.Equal(LimitVerdict.OutsideReceive, Figure(figures, "break").Verdict);
        }
    }

    // Half the rate reads as bits of 4 us where only even pulses are sent: nothing tells it from slots but that.
    [Theory]
    [InlineData(8)]
    [InlineData(2)]
    [InlineData(3.7)]
    [InlineData(4.4)]
    public void A_line_of_another_rate_has_a_doubtful_rate(double bit)
    {
        foreach (byte[] octets in new byte[][] { [0xBE, .. Ramp(24)], [0, .. Ramp(24)], [0, .. Enumerable.Repeat((byte)0xFF, 100)] })
        {
            IReadOnlyList<TimingMeasurement> figures = Measure(null, line => Repeat(9, () => line.Packet(new LineForm { Break = 176, MarkAfterBreak = 40, Bit = bit, MarkBeforeBreak = 800 }, octets)));
            Assert.DoesNotContain(figures, figure => figure.Quantity != "bitTime" && figure.Quantity != "slotTime" && figure.Verdict is LimitVerdict.OutsideReceive or LimitVerdict.OutsideTransmit);
        }
    }

    [Fact]
    public void Packets_that_each_have_another_START_code_which_nobody_uses_are_in_doubt()
    {
        IReadOnlyList<TimingMeasurement> figures = Measure(null, line =>
        {
            foreach (byte code in (byte[])[0xBE, 0x41, 0x77, 0x12, 0xA9])
            {
                line.Packet(new LineForm { Break = 80 }, [code, .. Ramp(24)]);
            }
        });
        Assert.Equal("the rate is in doubt", Figure(figures, "break").UndecidedAgainst);
    }

    // 5 % is far beyond the 2 % that a sender's bits may differ: the rate told is wrong, or the sender is.
    [Theory]
    [InlineData(950_000)]
    [InlineData(1_050_000)]
    [InlineData(970_000)]
    public void Where_a_told_sampling_rate_does_not_fit_nothing_is_judged_and_the_question_is_asked(long told)
    {
        (IReadOnlyList<TimingMeasurement> figures, LineChannelSummary channel) = Told(told, isTold: true);
        Assert.Equal(LineDoubt.Rate, channel.Doubt);
        Assert.Contains("Is --rate right?", LineDoubts.Sentence(channel, "line A"), StringComparison.Ordinal);
        Assert.All(figures.Where(figure => figure.Transmit is not null || figure.Receive is not null), figure => Assert.Equal((LimitVerdict.Undecided, "the rate is in doubt"), (figure.Verdict, figure.UndecidedAgainst)));

        // A file that states its rate is believed: then the sender is off.
        (figures, channel) = Told(told, isTold: false);
        Assert.Equal(LineDoubt.None, channel.Doubt);
        Assert.Equal(LimitVerdict.OutsideTransmit, Figure(figures, "bitTime").Verdict);
    }

    [Theory]
    [InlineData(1_000_000)]
    [InlineData(990_000)]
    [InlineData(1_010_000)]
    public void A_told_sampling_rate_within_what_bits_may_differ_is_not_questioned(long told)
    {
        (IReadOnlyList<TimingMeasurement> figures, LineChannelSummary channel) = Told(told, isTold: true);
        Assert.Equal(LineDoubt.None, channel.Doubt);
        Assert.NotEqual("the rate is in doubt", Figure(figures, "break").UndecidedAgainst);
    }

    // A line sampled at 1 MHz, read as if it had been sampled at another rate: at 1 MHz a microsecond would be a sample.
    private static (IReadOnlyList<TimingMeasurement> Figures, LineChannelSummary Channel) Told(long rate, bool isTold)
    {
        double stretch = 1e6 / rate;
        LineSynthesiser line = new(2);
        line.Idle(300);
        LineForm form = new() { Break = 176 * stretch, MarkAfterBreak = 20 * stretch, Bit = 4 * stretch, MarkBeforeBreak = 400 * stretch };
        Repeat(20, () => line.Levels(form, Ramp(512)));
        line.Idle(1_000);
        LineTimingAnalyzer analyzer = new(null, clockPpm: 100);
        RecordDecoder decoder = new(new LineOptions { IsRateTold = isTold });
        using LineRecordingSource source = new LineRecording(rate, [new LineTrack("x", line.Signal)]).Open();
        new Session(source, decoder, analyzer).Run(CancellationToken.None);
        IReadOnlyList<LineChannelSummary> channels = decoder.Lines.Snapshot();
        return (LineTimings.Measure(analyzer, channels), Assert.Single(channels));
    }

    [Fact]
    public void One_packet_without_a_START_code_in_use_is_judged_only_where_its_bits_last_4_us()
    {
        Assert.Equal("the rate is in doubt", Figure(Measure(null, line => line.Packet(new LineForm { Break = 80, Bit = 3.7 }, [0xBE, .. Ramp(24)])), "break").UndecidedAgainst);
        Assert.Equal(LimitVerdict.OutsideReceive, Figure(Measure(null, line => line.Packet(new LineForm { Break = 80 }, [0xBE, .. Ramp(24)])), "break").Verdict);
    }

    [Theory]
    [InlineData(19, false, false)]
    [InlineData(20, true, false)]
    [InlineData(100, true, true)]
    public void A_percentile_is_told_only_where_enough_values_stand_behind_it(int packets, bool has95, bool has99)
    {
        TimingMeasurement figure = Figure(Measure(null, line => Repeat(packets, () => line.Levels(new LineForm(), Ramp(24)))), "break");
        Assert.Equal((has95, has95, has99), (figure.P5 is not null, figure.P95 is not null, figure.P99 is not null));
    }

    private static byte[] Ramp(int slots) => [.. Enumerable.Range(1, slots).Select(slot => unchecked((byte)(slot * 7)))];

    private static void Repeat(int times, Action once)
    {
        for (int i = 0; i < times; i++)
        {
            once();
        }
    }

    private static TimingMeasurement Figure(IReadOnlyList<TimingMeasurement> figures, string quantity) =>
        figures.First(figure => figure.Quantity == quantity);

    private static IReadOnlyList<TimingMeasurement> Measure(LineRole? against, Action<LineSynthesiser> make)
    {
        LineSynthesiser line = new(1);
        line.Idle(300);
        make(line);
        line.Idle(1_200_000);
        LineTimingAnalyzer analyzer = new(against, clockPpm: 100);
        RecordDecoder decoder = new();
        using LineRecordingSource source = new LineRecording(10_000_000, [new LineTrack("x", line.Signal)]).Open();
        new Session(source, decoder, analyzer).Run(CancellationToken.None);
        return LineTimings.Measure(analyzer, decoder.Lines.Snapshot());
    }
}
