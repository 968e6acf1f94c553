using DmxProbe.Analysis.Locate;
using DmxProbe.Testing.Rigs;

namespace DmxProbe.Analysis.Tests.Locate;

public class SpillTests
{
    private const int Samples = 300;
    private const int Tail = ChannelEvidence.Delays - 1;

    // Behind the window each unit takes again a value it had at some sample of the window: so must every combination of them.
    [Fact]
    public void A_spill_vector_goes_on_behind_the_window_as_the_units_it_is_made_of()
    {
        RigRandom random = new(91);
        List<double[]> columns = [.. Enumerable.Range(0, 8).Select(_ => Centred(Moves(random, Samples)))];
        List<double[]> tails = [.. columns.Select(column => Enumerable.Range(0, Tail).Select(t => column[17 * t]).ToArray())];
        SpillSpace space = SpillSpace.Of(columns, tails);
        Assert.Equal(8, space.Dimension);
        for (int k = 0; k < space.Dimension; k++)
        {
            for (int t = 0; t < Tail; t++)
            {
                Assert.Equal(space.Vectors[k][17 * t], space.Beyond[k][t], 1e-9);
            }
        }
    }

    [Fact]
    public void Readings_left_out_at_the_ends_count_as_explained_where_the_others_light_explains_them()
    {
        // The trace is a light and six times the mean of the others', on time; its last readings lie behind every shorter delay's window.
        RigRandom random = new(92);
        double[] own = Moves(random, Samples + Tail);
        double[][] others = [.. Enumerable.Range(0, 12).Select(_ => Moves(random, Samples + Tail))];
        double[] trace = [.. own.Select((value, t) => value + (6 * others.Average(other => other[t])) + (0.03 * random.Gaussian()))];
        double[] means = [.. others.Select(other => other[..Samples].Average())];
        SpillSpace space = SpillSpace.Of(
            [.. others.Select((other, i) => other[..Samples].Select(value => value - means[i]).ToArray())],
            [.. others.Select((other, i) => other[Samples..].Select(value => value - means[i]).ToArray())]);
        ChannelEvidence channel = new(trace, NoiseLevel.Variance(trace), Samples, space);
        Prediction prediction = new(1);
        prediction.Clear(Samples);
        prediction.Add(0, [0f]);
        Weighing weighing = new([channel], prediction);
        double[] light = own[..Samples];
        weighing.Take(light);
        EndLight ends = new(weighing, 0, own, light, []);
        int strong = Array.FindIndex(SpillStrength.All, strength => strength is { Common: 0.15, Apart: 0.15 });

        // Fifteen readings, each known but for the noise: half of ln(total / rest) each, less what a wrong amount costs.
        double known = 0.5 * Tail * Math.Log(channel.Total[0] / Samples / ((0.03 * 0.03) + (StepScorer.ModelError * StepScorer.ModelError * channel.Total[0] / Samples)));
        double with = WindowEnds.Credit(channel, weighing[0], strong, 0, ends);
        double without = WindowEnds.Credit(channel, weighing[0], 0, 0, ends);
        Assert.InRange(with, 0.5 * known, 2 * known);
        Assert.True(without < 0.5 * with, $"{without} of {with} of {known}");
    }

    private static double[] Moves(RigRandom random, int count)
    {
        double[] values = new double[count];
        double level = 0;
        for (int t = 0; t < count; t++)
        {
            level = t % 25 == 0 ? random.Unit() : level;
            values[t] = level;
        }

        return values;
    }

    private static double[] Centred(double[] values)
    {
        Lanes.Centre(values);
        return values;
    }
}
