using DmxProbe.Analysis.Locate;
using DmxProbe.Testing.Rigs;
using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.Statistics;

namespace DmxProbe.Analysis.Tests.Locate;

/// <summary>The arithmetic against MathNet.Numerics, a general library outside the project, and against plain loops.</summary>
public class KernelTests
{
    private const int Samples = 400;
    private static readonly double[] Taus = [1, 2.5, 9];

    [Theory]
    [InlineData(1.0)]
    [InlineData(0.5)]
    [InlineData(2.0)]
    [InlineData(1.35)]
    public void The_step_score_is_the_correlation_that_a_reference_library_finds(double gamma)
    {
        RigRandom random = new(11);
        Prediction prediction = Steps(random);
        double[] trace = [.. Enumerable.Range(0, Samples + 15).Select(_ => random.Gaussian())];
        ChannelEvidence channel = new(trace, NoiseLevel.Variance(trace), Samples, SpillSpace.Of([], []));
        StepScorer scorer = new([channel]);
        PowerSteps steps = new(1);
        steps.Load(prediction);
        foreach (double tau in Taus)
        {
            Smoothing smoothing = new(tau, Samples);
            double[] light = Dense(prediction, gamma, smoothing);
            double best = 0;
            int delay = 0;
            for (int d = 0; d < ChannelEvidence.Delays; d++)
            {
                double r = Correlation.Pearson(light, trace.Skip(d).Take(Samples));
                (best, delay) = r > best ? (r, d) : (best, delay);
            }

            double expected = -0.5 * Samples * Math.Log(1 - (best * best) + 0.0025);
            Score score = scorer.Evaluate(steps, gamma, smoothing);
            Assert.Equal(delay, score.Delay);
            Assert.Equal(expected, score.LogLikelihood, 1e-6);
        }
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(7)]
    [InlineData(15)]
    public void A_known_delay_is_found_again(int delay)
    {
        RigRandom random = new(3);
        Prediction prediction = Steps(random);
        Smoothing smoothing = new(2.5, Samples + 15);
        double[] light = new double[Samples + 15];
        prediction.Fill(0, light.AsSpan(0, Samples));
        light.AsSpan(Samples).Fill(light[Samples - 1]);
        smoothing.Apply(light);
        double[] trace = [.. Enumerable.Range(0, Samples + 15).Select(t => 3 + (2 * light[Math.Max(t - delay, 0)]) + (0.1 * random.Gaussian()))];
        PowerSteps steps = new(1);
        steps.Load(prediction);
        Score score = new StepScorer([new ChannelEvidence(trace, NoiseLevel.Variance(trace), Samples, SpillSpace.Of([], []))]).Evaluate(steps, 1, smoothing);
        Assert.Equal(delay, score.Delay);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void The_spill_product_is_that_of_the_explicit_inverse_covariance(bool masked)
    {
        const int Length = 90;
        RigRandom random = new(21);
        List<double[]> columns = [.. Enumerable.Range(0, 4).Select(_ => Centred(random, Length))];
        double[] trace = [.. Enumerable.Range(0, Length + 15).Select(_ => random.Gaussian())];
        ChannelEvidence channel = new(trace, NoiseLevel.Variance(trace), Length, SpillSpace.Of(columns, []));
        Prediction prediction = new(1);
        prediction.Clear(Length);
        prediction.Add(0, [0f]);
        if (masked)
        {
            prediction.Mask(10, 25);
            prediction.Mask(60, 72);
        }

        Weighing weighing = new([channel], prediction);
        double[] a = Centred(random, Length);
        double[] b = [.. channel.Delayed[3]];
        weighing.Take(a);
        weighing.Take(b);
        int[] kept = [.. Enumerable.Range(0, Length).Where(t => !masked || t is not ((>= 10 and < 25) or (>= 60 and < 72)))];
        foreach (int scale in new[] { 1, 3, 5 })
        {
            double strength = SpillStrength.All[scale].Common * channel.Deviation / 0.3;

            // sigma^2 (sigma^2 I + s^2 B (I + 1 1^T) B^T)^-1 on the centred samples that count.
            Matrix<double> spill = Matrix<double>.Build.Dense(kept.Length, columns.Count, (t, u) => columns[u][kept[t]]);
            Matrix<double> centre = Matrix<double>.Build.DenseIdentity(kept.Length) - (1.0 / kept.Length);
            spill = centre * spill;
            Matrix<double> prior = Matrix<double>.Build.DenseIdentity(columns.Count) + 1;
            Matrix<double> covariance = Matrix<double>.Build.DenseIdentity(kept.Length) + (strength * strength / channel.Noise * spill * prior * spill.Transpose());
            Vector<double> left = Vector<double>.Build.Dense([.. kept.Select(t => a[t])]);
            Vector<double> right = Vector<double>.Build.Dense([.. kept.Select(t => b[t])]);
            double expected = left * covariance.Inverse() * right;
            double[] onSpill = weighing[0].OnSpill(a);
            Assert.Equal(expected, weighing[0].WithTrace(scale, 3, a, onSpill), 1e-8);
            Assert.Equal(left * covariance.Inverse() * left, weighing[0].Square(scale, Lanes.Dot(a, a), onSpill), 1e-8);
            Assert.Equal(-0.5 * Math.Log(covariance.Determinant()), weighing[0].LogDeterminant(scale), 1e-8);
        }
    }

    [Fact]
    public void The_fast_and_the_exact_score_agree_where_nothing_is_masked()
    {
        RigRandom random = new(31);
        Prediction prediction = Steps(random);
        List<double[]> columns = [.. Enumerable.Range(0, 6).Select(_ => Centred(random, Samples))];
        double[] trace = [.. Enumerable.Range(0, Samples + 15).Select(_ => random.Gaussian())];
        ChannelEvidence channel = new(trace, NoiseLevel.Variance(trace), Samples, SpillSpace.Of(columns, []));
        PowerSteps steps = new(1);
        steps.Load(prediction);
        Smoothing smoothing = new(2.5, Samples);
        Score fast = new StepScorer([channel]).Evaluate(steps, 1.35, smoothing);
        Weighing weighing = new([channel], prediction);
        double[] light = Dense(prediction, 1.35, smoothing);
        weighing.Take(light);
        Score exact = weighing.Evaluate([light], 1.35, 2.5, SpillStrength.All.Length);
        Assert.Equal(exact.LogLikelihood, fast.LogLikelihood, 1e-6);
        Assert.Equal((exact.Delay, exact.Spill), (fast.Delay, fast.Spill));
    }

    [Fact]
    public void The_quick_score_of_a_gapped_prediction_is_near_the_exact_one()
    {
        RigRandom random = new(33);
        Prediction prediction = Steps(random);
        Prediction gapped = new(1);
        gapped.Clear(Samples);
        for (int i = 0; i < prediction.Count; i++)
        {
            gapped.Add(prediction.At[i], [(float)prediction.Value[0][i]]);
        }

        gapped.Mask(100, 180);
        gapped.Mask(300, 320);
        Smoothing smoothing = new(2.5, Samples);
        double[] light = Dense(gapped, 1, smoothing);
        double[] trace = [.. Enumerable.Range(0, Samples + 15).Select(t => light[Math.Clamp(t - 4, 0, Samples - 1)] + (0.1 * random.Gaussian()))];
        ChannelEvidence channel = new(trace, NoiseLevel.Variance(trace), Samples, SpillSpace.Of([], []));
        PowerSteps steps = new(1);
        steps.Load(gapped);
        Score quick = new SpanScorer([channel]).Evaluate(gapped, steps, [1.0], smoothing);
        Weighing weighing = new([channel], gapped);
        weighing.Take(light);
        Score exact = weighing.Evaluate([light], 1, 2.5, 1);
        Assert.Equal(exact.Delay, quick.Delay);
        Assert.InRange(quick.LogLikelihood / exact.LogLikelihood, 0.8, 1.2);
    }

    [Fact]
    public void A_readings_noise_does_not_depend_on_how_the_grid_was_made()
    {
        RigRandom random = new(35);
        foreach (double rate in new[] { 10.0, 30.0, 120.0 })
        {
            int count = (int)(rate * 600);
            LightTrace trace = new(
                [.. Enumerable.Range(0, count).Select(i => DmxProbe.Protocols.Records.Timestamp.FromUnixNanoseconds((long)(i / rate * 1e9)))],
                [[.. Enumerable.Range(0, count).Select(_ => random.Gaussian())]]);
            TraceGrid grid = trace.ToGrid(DmxProbe.Protocols.Records.Timestamp.FromUnixNanoseconds(0), 17990);
            Assert.InRange(grid.Noise[0] / (30 / rate), 0.9, 1.1);
        }
    }

    [Fact]
    public void Eigenvalues_and_vectors_are_those_of_a_reference_library()
    {
        RigRandom random = new(41);
        double[,] matrix = new double[12, 12];
        for (int i = 0; i < 12; i++)
        {
            for (int j = 0; j <= i; j++)
            {
                matrix[i, j] = matrix[j, i] = random.Gaussian();
            }
        }

        (double[] values, double[,] vectors) = SymmetricEigen.Of(matrix);
        Matrix<double> reference = Matrix<double>.Build.DenseOfArray(matrix);
        double[] expected = [.. reference.Evd(Symmetricity.Symmetric).EigenValues.Select(value => value.Real).OrderDescending()];
        for (int k = 0; k < 12; k++)
        {
            Assert.Equal(expected[k], values[k], 1e-10);
            Vector<double> vector = Vector<double>.Build.Dense(12, i => vectors[i, k]);
            Assert.Equal(0, ((reference * vector) - (values[k] * vector)).L2Norm(), 1e-9);
        }
    }

    [Fact]
    public void Positive_least_squares_finds_the_free_solution_when_it_is_positive_and_zero_where_it_is_not()
    {
        RigRandom random = new(51);
        double[][] columns = [.. Enumerable.Range(0, 3).Select(_ => Centred(random, 200))];
        double[] target = [.. Enumerable.Range(0, 200).Select(t => (2 * columns[0][t]) + (0.5 * columns[1][t]) - (1.5 * columns[2][t]))];
        double[] found = new PositiveLeastSquares(columns, target, [0, 0, 0]).Solve(0);
        Matrix<double> two = Matrix<double>.Build.Dense(200, 2, (t, i) => columns[i][t]);
        Vector<double> expected = two.QR().Solve(Vector<double>.Build.Dense(target));
        Assert.Equal(expected[0], found[0], 1e-4);
        Assert.Equal(expected[1], found[1], 1e-4);
        Assert.Equal(0, found[2]);
    }

    [Fact]
    public void Noise_is_measured_under_a_light_that_steps()
    {
        RigRandom random = new(61);
        double[] trace = [.. Enumerable.Range(0, 3000).Select(t => (t / 100 % 2 * 5) + (0.2 * random.Gaussian()))];
        Assert.Equal(0.04, NoiseLevel.Variance(trace), 0.004);
    }

    [Fact]
    public void Smoothed_squares_in_closed_form_are_those_of_the_samples()
    {
        Prediction prediction = Steps(new RigRandom(71));
        Smoothing smoothing = new(2.5, Samples);
        double[] light = Dense(prediction, 1, smoothing);
        Lanes.Centre(light);
        double expected = light.Sum(value => value * value);
        PowerSteps steps = new(1);
        steps.Load(prediction);
        double[] raised = new double[steps.Count];
        steps.Raise(0, 1, raised);
        Assert.Equal(expected, smoothing.CentredSquares(steps.At, raised, Samples), 1e-9);
    }

    private static double[] Dense(Prediction prediction, double gamma, Smoothing smoothing)
    {
        double[] light = new double[prediction.Samples];
        prediction.Fill(0, light);
        for (int t = 0; t < light.Length; t++)
        {
            light[t] = Math.Pow(light[t] / prediction.Peak[0], gamma);
        }

        smoothing.Apply(light);
        return light;
    }

    private static Prediction Steps(RigRandom random)
    {
        Prediction prediction = new(1);
        prediction.Clear(Samples);
        for (int t = 0; t < Samples; t += 1 + random.Below(25))
        {
            prediction.Add(t, [(float)random.Unit()]);
        }

        return prediction;
    }

    private static double[] Centred(RigRandom random, int length)
    {
        double[] values = [.. Enumerable.Range(0, length).Select(_ => random.Gaussian())];
        Lanes.Centre(values);
        return values;
    }
}
