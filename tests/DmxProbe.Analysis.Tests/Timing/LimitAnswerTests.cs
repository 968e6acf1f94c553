using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Timing;
using DmxProbe.Testing.Files;
using DmxProbe.Testing.Line;

namespace DmxProbe.Analysis.Tests.Timing;

/// <summary>What may be sent and what must be accepted, answered apart.</summary>
public class LimitAnswerTests
{
    [Theory]
    // Limits 92 and 88 us, known to 1 us: E1.11 by secondary sources, as in LineLimits.
    [InlineData(100, LimitStanding.Within, LimitStanding.Within)]
    [InlineData(90, LimitStanding.Outside, LimitStanding.Within)]
    [InlineData(88.5, LimitStanding.Outside, LimitStanding.Open)]
    [InlineData(91.5, LimitStanding.Open, LimitStanding.Within)]
    [InlineData(80, LimitStanding.Outside, LimitStanding.Outside)]
    public void Each_limit_has_its_own_answer(double least, LimitStanding send, LimitStanding accept) =>
        Assert.Equal([send, accept], LimitAnswer.Of(Figure(least, 10)).Select(answer => answer.Standing));

    [Fact]
    public void Two_values_decide_nothing() =>
        Assert.All(LimitAnswer.Of(Figure(100, 2)), answer => Assert.Equal((LimitStanding.Open, "too few measurements: 3 are wanted"), (answer.Standing, answer.Why)));

    [Fact]
    public void What_was_perhaps_not_sent_is_held_against_nothing() =>
        Assert.All(
            LimitAnswer.Of(Figure(80, 10) with { IsUnjudged = true, UndecidedAgainst = "the polarity is in doubt" }),
            answer => Assert.Equal((LimitStanding.Open, "the polarity is in doubt"), (answer.Standing, answer.Why)));

    [Fact]
    public void A_line_figure_that_the_network_cannot_show_is_open_against_the_limits_of_a_line()
    {
        TimingMeasurement figure = new()
        {
            Subject = "x",
            Protocol = UniverseProtocol.Line,
            Quantity = "break",
            Unit = "us",
            MeasuredAt = "network",
            Verdict = LimitVerdict.NotMeasurable,
            Note = "only line edges show it",
        };
        Assert.Equal([(92, LimitStanding.Open), (88, LimitStanding.Open)], LimitAnswer.Of(figure).Select(answer => (answer.Limit.Min!.Value, answer.Standing)));
    }

    [Fact]
    public void The_recording_of_the_desk_on_the_bench_is_what_its_seed_makes() => Assert.Equal(
        BenchDesk.Make(),
        File.ReadAllBytes(Path.Combine([Places.Repository, "captures", .. BenchDesk.File.Split('/')])));

    [Fact]
    public void Nothing_is_answered_where_nothing_limits() =>
        Assert.Empty(LimitAnswer.Of(Figure(80, 10) with { Transmit = null, Receive = null }));

    private static TimingMeasurement Figure(double least, long count) => new()
    {
        Subject = "x",
        Protocol = UniverseProtocol.Line,
        Quantity = "break",
        Unit = "us",
        Min = least,
        Max = 200,
        MinUncertainty = 1,
        MaxUncertainty = 1,
        Count = count,
        MeasuredAt = "edges",
        Transmit = new LimitRange(92, null, "a"),
        Receive = new LimitRange(88, null, "b"),
        Verdict = LimitVerdict.Inside,
    };
}
