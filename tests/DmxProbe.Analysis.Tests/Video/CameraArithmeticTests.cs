using DmxProbe.Analysis.Video;

namespace DmxProbe.Analysis.Tests.Video;

/// <summary>Tone curves and flicker against published figures.</summary>
public class CameraArithmeticTests
{
    // Rec. ITU-R BT.709 item 1.2, forwards: V = 1.099 L^0.45 - 0.099; at L = 0.018 both branches give 0.081.
    [Theory]
    [InlineData(0, 0)]
    [InlineData(0.081, 0.018)]
    [InlineData(0.4090, 0.18)]
    [InlineData(1, 1)]
    public void A_709_code_value_gives_back_its_light(double value, double light) =>
        Assert.Equal(light, ToneCurve.Bt709.Light(value), 3e-4);

    // IEC 61966-2-1: half of full code is 21.4 % of the light; the two branches meet at 0.04045.
    [Theory]
    [InlineData(0.5, 0.214041)]
    [InlineData(0.04045, 0.0031308)]
    [InlineData(1, 1)]
    public void An_srgb_code_value_gives_back_its_light(double value, double light) =>
        Assert.Equal(light, ToneCurve.Srgb.Light(value), 1e-6);

    // Rec. ITU-R BT.2100 table 5: E' = 0.5 at E = 1/12, E' = 1 at E = 1. Report ITU-R BT.2408: reference white 75 % is 0.265 of the peak.
    [Theory]
    [InlineData(0.5, 1.0 / 12)]
    [InlineData(0.75, 0.265)]
    [InlineData(1, 1)]
    public void A_hybrid_log_gamma_value_gives_back_its_light(double value, double light) =>
        Assert.Equal(light, ToneCurve.HybridLogGamma.Light(value), 1e-3);

    // Report ITU-R BT.2408: 58 % of perceptual quantisation is 203 cd/m2 of 10,000.
    [Theory]
    [InlineData(0.58, 0.0203)]
    [InlineData(1, 1)]
    [InlineData(0, 0)]
    public void A_quantised_value_gives_back_its_light(double value, double light) =>
        Assert.Equal(light, ToneCurve.PerceptualQuantiser.Light(value), 3e-4);

    // Sampling theorem: f folds to |f - k fps|. 30 pictures a second see 100 Hz as 10 Hz and 120 Hz as nothing, 29.97 see 120 Hz as 0.12 Hz.
    [Theory]
    [InlineData(100, 30, 10)]
    [InlineData(120, 30, 0)]
    [InlineData(120, 30_000 / 1001.0, 0.1199)]
    [InlineData(100, 25, 0)]
    [InlineData(120, 25, 5)]
    [InlineData(100, 24, 4)]
    [InlineData(1000, 30, 10)]
    [InlineData(1000, 29.97, 10.99)]
    [InlineData(7, 30, 7)]
    public void Flicker_is_seen_at_its_alias(double flicker, double rate, double seen) =>
        Assert.Equal(seen, FlickerAlias.Seen(flicker, rate), 1e-3);

    [Fact]
    public void The_alias_of_a_frequency_is_the_strongest_line_of_its_samples()
    {
        foreach ((double flicker, double rate) in new[] { (100.0, 29.97), (120.0, 25.0), (400.0, 29.97), (973.0, 30.0) })
        {
            double best = 0;
            double strongest = -1;
            for (double line = 0; line <= rate / 2; line += 0.01)
            {
                double real = 0;
                double imaginary = 0;
                for (int n = 0; n < 900; n++)
                {
                    double value = Math.Cos(2 * Math.PI * flicker * n / rate);
                    real += value * Math.Cos(2 * Math.PI * line * n / rate);
                    imaginary += value * Math.Sin(2 * Math.PI * line * n / rate);
                }

                (strongest, best) = (real * real) + (imaginary * imaginary) > strongest ? ((real * real) + (imaginary * imaginary), line) : (strongest, best);
            }

            Assert.Equal(best, FlickerAlias.Seen(flicker, rate), 0.02);
        }
    }

    // The mean of a sine over a whole number of its periods is nothing: 1/50 s takes out 100 Hz, 1/60 s takes out 120 Hz.
    [Theory]
    [InlineData(100, 1 / 50.0, 0)]
    [InlineData(120, 1 / 60.0, 0)]
    [InlineData(100, 1 / 60.0, 0.1654)]
    [InlineData(100, 0, 1)]
    public void An_exposure_of_whole_periods_takes_the_flicker_out(double flicker, double exposure, double passed) =>
        Assert.Equal(passed, FlickerAlias.PassedByExposure(flicker, exposure), 1e-3);
}
