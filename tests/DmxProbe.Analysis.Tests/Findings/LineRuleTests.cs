using DmxProbe.Analysis.Decoding.Line;
using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Survey;
using DmxProbe.Testing.Line;

namespace DmxProbe.Analysis.Tests.Findings;

public class LineRuleTests
{
    private const long Fine = 12_000_000;

    [Fact]
    public void A_healthy_line_has_no_finding()
    {
        SurveySnapshot survey = Survey(new LineTrack("a", Line(1, new LineForm()).Signal));
        Assert.Empty(survey.Findings);
        Assert.Equal("line A", Assert.Single(survey.Universes).Id.Label);
        Assert.Equal("a", survey.Universes[0].Streams[0].Sender.Name);
        Assert.Equal(30, survey.Universes[0].Frames);
    }

    [Fact]
    public void A_pair_is_no_reversed_line_and_a_single_leg_upside_down_is()
    {
        LineSignal signal = Line(2, new LineForm()).Signal;
        Assert.Empty(Survey(new LineTrack("+", signal), new LineTrack("-", signal, IsInverted: true)).Findings);
        Finding reversed = Assert.Single(Survey(new LineTrack("rx", signal, IsInverted: true)).Findings);
        Assert.Equal(("reversed-pair", Severity.Warning), (reversed.Id, reversed.Severity));
        Assert.Contains("254 - 4 x", reversed.Measured, StringComparison.Ordinal);
        Assert.NotEmpty(reversed.Cautions);
    }

    [Fact]
    public void Two_transmitters_are_named_and_a_noisy_line_is_not_called_two()
    {
        LineSignal both = LineSignal.Together(
            Line(3, new LineForm { MarkBeforeBreak = 700 }).Signal, Line(4, new LineForm { Bit = 4.02, MarkBeforeBreak = 2_300 }).Signal);
        Assert.Contains(Survey(new LineTrack("x", both)).Findings, finding => finding.Id == "two-transmitters" && finding.Severity == Severity.Fault);

        IReadOnlyList<Finding> noisy = Survey(new LineTrack("x", Line(5, new LineForm { LostStopChance = 0.001, InterSlot = 10 }).Signal)).Findings;
        Assert.Contains(noisy, finding => finding.Id == "framing-errors");
        Assert.DoesNotContain(noisy, finding => finding.Id == "two-transmitters");
    }

    [Fact]
    public void A_recording_of_nothing_says_so()
    {
        LineSignal idle = new();
        idle.Hold(mark: true, 3e9);
        Finding finding = Assert.Single(Survey(new LineTrack("a", idle), new LineTrack("b", idle, IsInverted: true)).Findings);
        Assert.Equal("line-not-connected", finding.Id);
        Assert.Contains("'a' and 'b'", finding.Text, StringComparison.Ordinal);
    }

    // Break limits of secondary sources: 92 us to send, 88 us to accept.
    [Theory]
    [InlineData(90, "line-timing-outside-transmit")]
    [InlineData(84, "line-timing-outside-receive")]
    public void A_short_break_is_a_fault_that_says_whether_a_receiver_must_accept_it(double length, string id)
    {
        Finding finding = Assert.Single(Survey(new LineTrack("a", Line(6, new LineForm { Break = length }).Signal)).Findings);
        Assert.Equal((id, Severity.Fault), (finding.Id, finding.Severity));
        Assert.Contains("in 30 of 30 packets", finding.Text, StringComparison.Ordinal);
        Assert.Equal("at least 92 us", finding.Limit);
    }

    private static LineSynthesiser Line(ulong seed, LineForm form)
    {
        LineSynthesiser line = new(seed);
        line.Idle(300);
        for (int packet = 0; packet < 30; packet++)
        {
            byte[] slots = new byte[256];
            slots.AsSpan().Fill(unchecked((byte)(packet * 5)));
            line.Levels(form, slots);
        }

        // The next break ends the last packet; it is too short a stay to be one of its own.
        line.Idle(1_100_000);
        return line;
    }

    private static SurveySnapshot Survey(params LineTrack[] tracks)
    {
        using LineRecordingSource source = new LineRecording(Fine, tracks, until: Math.Min(tracks.Min(track => track.Signal.Now), 2e9)).Open();
        return Surveyor.Run(source, CancellationToken.None, LineOptions.Found);
    }
}
