using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Tests.Survey;

public sealed class DeafnessTests
{
    private static readonly Duration Loss = Duration.FromSeconds(2.5);

    [Fact]
    public void A_pause_in_which_nobody_listened_belongs_to_nobody_and_is_not_called_so()
    {
        Deafness deafness = Deaf((10, 70));
        IReadOnlyList<ObeyedSpan> spans = deafness.Without([Span(0, 12, 0, 1), Span(12, 12.5, 1), Span(12.5, 70), Span(70, 90, 0)], Loss);
        Assert.Equal([Span(0, 10, 0, 1), Span(70, 90, 0)], spans, Same);
    }

    [Fact]
    public void A_sender_that_stays_away_after_the_pause_is_missed_once_it_would_have_been_heard()
    {
        Deafness deafness = Deaf((10, 70));
        Assert.Equal([Span(0, 10, 0), Span(72.5, 90)], deafness.Without([Span(0, 12.5, 0), Span(12.5, 90)], Loss), Same);
        Assert.Equal([Span(0, 10, 0)], deafness.Without([Span(0, 12.5, 0), Span(12.5, 71)], Loss), Same);
    }

    [Fact]
    public void Silence_that_was_heard_stays()
    {
        ObeyedSpan[] spans = [Span(0, 5, 0), Span(5, 8), Span(8, 80, 0)];
        Assert.Equal(spans, new Deafness().Without(spans, Loss), Same);
        Assert.Equal(spans, Deaf((10, 12)).Without(spans, Loss), Same);
    }

    [Fact]
    public void Losses_told_once_a_second_are_one_stretch()
    {
        Deafness deafness = new();
        deafness.Heard(At(10));
        for (int second = 11; second <= 70; second++)
        {
            deafness.DeafUntil(At(second));
        }

        Assert.Equal([Span(0, 10, 0), Span(70, 90, 0)], deafness.Without([Span(0, 12.5, 0), Span(12.5, 70), Span(70, 90, 0)], Loss), Same);
    }

    private static Deafness Deaf(params (double From, double To)[] stretches)
    {
        Deafness deafness = new();
        foreach ((double from, double to) in stretches)
        {
            deafness.Heard(At(from));
            deafness.DeafUntil(At(to));
        }

        return deafness;
    }

    private static Timestamp At(double seconds) => Timestamp.FromUnixNanoseconds(1_773_517_260_000_000_000) + Duration.FromSeconds(seconds);

    private static ObeyedSpan Span(double from, double to, params int[] senders) => new(At(from), At(to), senders, 100);

    private static bool Same(ObeyedSpan left, ObeyedSpan right) =>
        (left.From, left.To) == (right.From, right.To) && left.Senders.SequenceEqual(right.Senders);
}
