using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Survey;
using DmxProbe.Testing.Network;

namespace DmxProbe.Analysis.Tests.Network;

/// <summary>Bursts and jitter. All limits: common practice, no source.</summary>
public class ArrivalTests
{
    [Fact]
    public void Packets_that_come_in_heaps_are_told_with_the_gap_before_them()
    {
        FrameSource source = new();
        for (int i = 0; i < 400; i++)
        {
            // Ten packets 0.2 ms apart, then nothing for a quarter of a second.
            source.At((i / 10 * 0.25) + (i % 10 * 0.0002), Wire.Sacn(i));
        }

        SurveySnapshot survey = source.Survey();

        Finding finding = survey.One("packets-in-bursts");
        Assert.Equal(Severity.Warning, finding.Severity);
        Assert.Contains("39 times, up to 10 at once after 248 ms", finding.Text, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(4, 0.0002, 0.25)] // four are no heap
    [InlineData(10, 0.0002, 0.09)] // no gap before
    [InlineData(5, 0.002, 0.25)] // five in 8 ms
    public void What_is_less_than_a_heap_is_not_told(int packets, double within, double between)
    {
        FrameSource source = new();
        for (int i = 0; i < 200; i++)
        {
            source.At((i / packets * between) + (i % packets * within), Wire.Sacn(i));
        }

        Assert.DoesNotContain("packets-in-bursts", source.Survey().Ids());
    }

    [Theory]
    [InlineData(0, false)]
    [InlineData(3, false)] // fewer than one in a hundred
    [InlineData(20, true)]
    public void A_steady_sender_whose_packets_are_now_and_then_late_is_told(int late, bool isTold)
    {
        // Sent every 22.5 ms; a packet held back for 70 ms has those behind it wait too.
        FrameSource source = new();
        double arrival = 0;
        for (int i = 0; i < 400; i++)
        {
            double delay = late > 0 && i % (400 / late) == 7 ? 0.07 : 0;
            arrival = Math.Max((i * 0.0225) + delay, arrival + 0.0002);
            source.At(arrival, Wire.Sacn(i));
        }

        Assert.Equal(isTold ? ["unsteady-arrival"] : [], source.Survey().Ids());
    }

    [Fact]
    public void A_sender_that_pauses_now_and_then_is_not_held_back()
    {
        FrameSource source = new();
        double time = 0;
        for (int i = 0; i < 400; i++)
        {
            time += i % 20 == 7 ? 0.09 : 0.0225;
            source.At(time, Wire.Sacn(i));
        }

        Assert.Empty(source.Survey().Ids());
    }

    [Fact]
    public void A_sender_that_sends_on_changes_has_no_pace_to_keep()
    {
        Random random = new(5);
        FrameSource source = new();
        double time = 0;
        for (int i = 0; i < 600; i++)
        {
            time += 0.02 + (random.NextDouble() * random.NextDouble() * 0.2);
            source.At(time, Wire.Sacn(i));
        }

        Assert.Empty(source.Survey().Ids());
    }
}
