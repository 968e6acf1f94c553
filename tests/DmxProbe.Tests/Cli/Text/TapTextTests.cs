using DmxProbe.Analysis.Compare;
using DmxProbe.Analysis.Timing;
using DmxProbe.Cli.Text;
using DmxProbe.Testing.Surveys;

namespace DmxProbe.Tests.Cli.Text;

public class TapTextTests
{
    [Fact]
    public void A_gateway_and_a_line_are_answered_first_in_a_sentence()
    {
        TextPage page = new(120, color: false);
        TimedInput[] inputs = [new("net.pcap", []), new("start.vcd", []), new("end.vcd", [])];
        TapText.Write(page, inputs, FullSurvey.Taps);
        StringWriter output = new();
        page.WriteTo(output);
        string text = string.Join(' ', output.ToString().Split([' ', '\n'], StringSplitOptions.RemoveEmptyEntries));
        Assert.StartsWith("line A in start.vcd carries sACN 2 of net.pcap, 13.0 ms after the packet (median of 900 changes; p99 27.0 ms).", text, StringComparison.Ordinal);
        Assert.Contains("900 of 1,000 changes reached the line as they were sent; the network sends at 44.0 Hz, the line at 40.0 Hz", text, StringComparison.Ordinal);
        Assert.Contains("highest value of each slot (HTP), priority ignored: 3 of 2,400 line frames not explained (12 slots); next: latest change", text, StringComparison.Ordinal);
        Assert.Contains("all slots go to 0 2.00 s after the last packet", text, StringComparison.Ordinal);
        Assert.Contains("17 of 2,400 packets are whole at the start and not at the far end.", text, StringComparison.Ordinal);
        Assert.Contains("slot 9 (in 3 packets)", text, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(500, "line A in start.vcd carries sACN 2 of net.pcap, 13.0 ms after the packet (median of 900 changes; p99 27.0 ms).")]
    [InlineData(499, "line A in start.vcd may carry sACN 2 of net.pcap: 499 of its 1,000 changes are on the line and the others are not. Were both recorded at the same time? If so, the gateway leaves changes out, or another sender is merged in.")]
    [InlineData(1, "line A in start.vcd may carry sACN 2 of net.pcap: 1 of its 1,000 changes is on the line and the others are not. Were both recorded at the same time?")]
    public void Where_fewer_than_half_of_the_changes_reach_the_line_it_is_a_maybe_and_says_why(long passed, string sentence) =>
        Assert.StartsWith(sentence, Gateway(each => each with { ChangesPassed = passed }), StringComparison.Ordinal);

    [Fact]
    public void A_line_that_carries_no_universe_and_taps_with_a_clock_each_are_said_so()
    {
        Assert.StartsWith("line A in start.vcd carries no universe of net.pcap: too few of its changes, or none, are there.", Gateway(each => each with { Universe = null }), StringComparison.Ordinal);
        Assert.StartsWith("line A in start.vcd carries sACN 2 of net.pcap, up to 27.0 ms later than at its fastest (p99).", Gateway(each => each with { SameClock = false }), StringComparison.Ordinal);
    }

    private static string Gateway(Func<GatewayComparison, GatewayComparison> change)
    {
        TextPage page = new(120, color: false);
        TapPair pair = FullSurvey.Taps[0];
        TapText.Write(
            page,
            [new("net.pcap", []), new("start.vcd", [])],
            [pair with { Comparison = pair.Comparison with { Gateways = [change(pair.Comparison.Gateways[0])] } }]);
        StringWriter output = new();
        page.WriteTo(output);
        return string.Join(' ', output.ToString().Split([' ', '\n'], StringSplitOptions.RemoveEmptyEntries));
    }

    [Fact]
    public void Inputs_with_one_sender_each_stand_side_by_side()
    {
        TextPage page = new(120, color: false);
        TimingMeasurement figure = FullSurvey.Timing.First(each => each.Median is not null);
        TimedInput[] inputs = [new("a", [figure]), new("b", [figure with { Min = 7, Median = 7, Max = 7, Subject = "another" }]), new("c", [figure])];
        SideBySideText.Write(page, inputs);
        StringWriter output = new();
        page.WriteTo(output);
        string[] lines = output.ToString().Split('\n', StringSplitOptions.RemoveEmptyEntries);
        Assert.StartsWith("Side by side", lines[0], StringComparison.Ordinal);
        Assert.Equal(["quantity", "A", "B", "C"], lines[1].Split(' ', StringSplitOptions.RemoveEmptyEntries));
        Assert.Contains(" 7.00", lines[2], StringComparison.Ordinal);
    }

    [Fact]
    public void Inputs_with_several_senders_do_not()
    {
        TextPage page = new(120, color: false);
        TimingMeasurement figure = FullSurvey.Timing.First(each => each.Median is not null);
        TimedInput several = new("a", [figure, figure with { Subject = "another" }]);
        SideBySideText.Write(page, [several, several]);
        StringWriter output = new();
        page.WriteTo(output);
        Assert.Equal("", output.ToString());
    }
}
