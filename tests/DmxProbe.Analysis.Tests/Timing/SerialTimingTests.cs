using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Timing;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Serial;

namespace DmxProbe.Analysis.Tests.Timing;

/// <summary>What the survey and the timing say of serial ports, and what they must not claim.</summary>
public class SerialTimingTests
{
    private static readonly string[] LineQuantities =
        ["break", "markAfterBreak", "slotTime", "interSlot", "markBeforeBreak", "breakToBreak"];

    [Theory]
    [InlineData(InterfaceContent.SerialFramed, "usb", "whole packets, not edges")]
    [InlineData(InterfaceContent.SerialUart, "uart", "not how long it was")]
    public void The_figures_of_the_line_are_not_measurable_and_it_says_why(InterfaceContent content, string at, string why)
    {
        IReadOnlyList<TimingMeasurement> figures = NetworkTiming.Measure(Survey(content, 200));
        Assert.All(figures, figure => Assert.Equal((at, "serial A at 'ttyTEST'"), (figure.MeasuredAt, figure.Subject)));
        TimingMeasurement[] not = [.. figures.Where(figure => figure.Verdict == LimitVerdict.NotMeasurable)];
        Assert.Equal(LineQuantities, not.Select(figure => figure.Quantity));
        Assert.All(not, figure => Assert.Contains(why, figure.Note, StringComparison.Ordinal));
    }

    [Fact]
    public void The_mean_rate_of_five_seconds_is_judged()
    {
        TimingMeasurement rate = Figure("refreshRate", Survey(InterfaceContent.SerialFramed, 200));
        Assert.Equal(LimitVerdict.Inside, rate.Verdict);
        Assert.InRange(rate.Median!.Value, 39.99, 40.01);
        Assert.InRange(rate.Resolution!.Value, 0.1, 0.2); // two lumps of up to 16 ms in 5 s
    }

    [Fact]
    public void The_rate_of_less_than_two_seconds_is_undecided()
    {
        TimingMeasurement rate = Figure("refreshRate", Survey(InterfaceContent.SerialFramed, 60));
        Assert.Equal(LimitVerdict.Undecided, rate.Verdict);
        Assert.Contains("less than 2 s", rate.Note, StringComparison.Ordinal);
    }

    [Fact]
    public void A_healthy_port_gives_no_finding() =>
        Assert.Empty(Survey(InterfaceContent.SerialUart, 200).Findings);

    [Fact]
    public void Framing_errors_are_named_with_their_slots()
    {
        SurveySnapshot survey = Survey(InterfaceContent.SerialUart, 200, (number, run) =>
        {
            if (number % 10 == 0)
            {
                run[2 * 6] = 2;
            }

            if (number % 50 == 1)
            {
                run[2 * 1] = 2;
            }
        });
        Finding finding = Assert.Single(survey.Findings, each => each.Id == "framing-errors");
        Assert.Equal(Severity.Fault, finding.Severity);
        Assert.Contains("24 framing errors, at slot 5 (20) and the START code (4)", finding.Text, StringComparison.Ordinal);
        Assert.Equal("common practice, no source", finding.LimitSource);
        Assert.Equal(176, survey.Universes[0].Streams[0].LevelFrames);
    }

    [Fact]
    public void A_bare_port_given_as_framed_is_told_so()
    {
        SerialRecords records = new(InterfaceContent.SerialFramed);
        records.Add(1, SerialOctets.Run(new byte[2000]));
        SurveySnapshot survey = Surveyor.Run(records, CancellationToken.None);
        Assert.Contains("framed or uart", Assert.Single(survey.Findings, each => each.Id == "no-packet-found").Action, StringComparison.Ordinal);
        Assert.Contains("No DMX in 1 read", Assert.Single(survey.Findings, each => each.Id == "no-levels").Text, StringComparison.Ordinal);
    }

    [Fact]
    public void An_interface_with_another_label_is_told_so()
    {
        SerialRecords records = new(InterfaceContent.SerialFramed);
        records.Add(1, SerialOctets.Run(SerialOctets.Framed(6, 0, 1, 2)));
        Finding finding = Assert.Single(Surveyor.Run(records, CancellationToken.None).Findings, each => each.Id == "no-dmx-label");
        Assert.Contains("label 6 (1)", finding.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_port_that_was_away_is_no_fault_of_the_line()
    {
        SerialRecords records = new(InterfaceContent.SerialFramed);
        records.Add(1, SerialOctets.Run(SerialOctets.Received(0, 1))).Lost(2).Add(3, SerialOctets.Run(SerialOctets.Received(0, 1)));
        Finding finding = Assert.Single(Surveyor.Run(records, CancellationToken.None).Findings, each => each.Id == "capture-lost-records");
        Assert.Contains("the port was away 1 time", finding.Text, StringComparison.Ordinal);
    }

    private static TimingMeasurement Figure(string quantity, SurveySnapshot survey) =>
        Assert.Single(NetworkTiming.Measure(survey), figure => figure.Quantity == quantity);

    // Packets of 24 slots, one each 25 ms.
    private static SurveySnapshot Survey(InterfaceContent content, int packets, Action<int, byte[]>? harm = null)
    {
        SerialRecords records = new(content);
        for (int number = 0; number <= packets; number++)
        {
            byte[] slots = new byte[24];
            slots[0] = (byte)number;
            byte[] run = content == InterfaceContent.SerialUart
                ? number == packets ? [1, 0] : [1, 0, .. SerialOctets.Run([0, .. slots])]
                : SerialOctets.Run(SerialOctets.Received(0, slots));
            if (number < packets)
            {
                harm?.Invoke(number, run);
            }

            records.Add(1_700_000_000_000_000_000 + (number * 25_000_000L), run);
        }

        return Surveyor.Run(records, CancellationToken.None);
    }
}
