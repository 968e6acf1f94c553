using DmxProbe.Analysis.Video;
using DmxProbe.Testing.Rigs;

namespace DmxProbe.Analysis.Tests.Video;

/// <summary>Regions, exposure and beats on small pictures of known truth.</summary>
public class RegionTests
{
    private const int Width = 64;
    private const int Height = 36;

    [Fact]
    public void Two_lights_of_different_programmes_are_two_regions_the_stronger_first()
    {
        SmallPictures pictures = Made(t => (t / 20 % 2 == 0 ? 180 : 40, t / 31 % 2 == 0 ? 110 : 30), _ => 1);
        IReadOnlyList<PictureRegion> found = RegionFinder.Find(pictures, Width * 10, Height * 10);
        Assert.Equal(2, found.Count);
        Assert.InRange(found[0].X, 80, 110);
        Assert.InRange(found[0].Width, 40, 90);
        Assert.InRange(found[1].X, 380, 420);
    }

    [Fact]
    public void A_picture_in_which_nothing_changes_has_no_region() =>
        Assert.Empty(RegionFinder.Find(Made(_ => (90, 90), _ => 1), Width, Height));

    [Fact]
    public void An_exposure_that_wanders_is_measured_by_the_steady_wall()
    {
        double Gain(int t) => 1 + (0.15 * Math.Sin(t / 40.0));
        ExposureDrift drift = ExposureDrift.Of(Made(t => (t / 20 % 2 == 0 ? 150 : 40, 60), Gain), ToneCurve.Linear);
        Assert.True(drift.IsCorrected);
        Assert.InRange(drift.Range, 0.25, 0.32);
        double[] ratios = [.. Enumerable.Range(20, 550).Select(t => drift.At(t) / Gain(t))];
        Assert.InRange(ratios.Max() / ratios.Min(), 1, 1.04);
    }

    [Fact]
    public void A_steady_exposure_is_left_alone()
    {
        ExposureDrift drift = ExposureDrift.Of(Made(t => (t / 20 % 2 == 0 ? 150 : 40, 60), _ => 1), ToneCurve.Linear);
        Assert.True(drift.IsKnown);
        Assert.False(drift.IsCorrected);
        Assert.Equal(1, drift.At(100));
    }

    [Fact]
    public void The_surroundings_are_taken_off_even_where_another_light_stands_in_them()
    {
        RegionMeter meter = new(new PictureRegion(20, 14, 8, 8), Width, Height, ToneCurve.Linear);
        byte[] pixels = new byte[3 * Width * Height];
        Array.Fill(pixels, (byte)51);
        Fill(pixels, 20, 14, 8, 153);
        Fill(pixels, 30, 8, 6, 250);
        meter.Add(pixels, 0);
        Assert.Equal((153 - 51) / 255.0, meter.Readings[0].Red, 1e-6);
        Assert.False(meter.Readings[0].IsClipped);
        Fill(pixels, 20, 14, 3, 255);
        meter.Add(pixels, 1);
        Assert.True(meter.Readings[1].IsClipped);
    }

    [Fact]
    public void A_steady_beat_is_found_and_cues_are_none()
    {
        RigRandom random = new(11);
        LightSample[] Light(double beat) =>
        [
            .. Enumerable.Range(0, 1800).Select(n =>
            {
                double level = (n / 97 % 2 == 0 ? 0.5 : 0.1) + (0.03 * Math.Sin(2 * Math.PI * beat * n / 29.97) * (beat > 0 ? 1 : 0)) + (0.005 * random.Gaussian());
                return new LightSample(n / 29.97, level, level, level);
            }),
        ];
        Assert.Equal(FlickerAlias.Seen(100, 29.97), BeatFinder.Of(Light(FlickerAlias.Seen(100, 29.97)), 29.97)!.Value, 0.05);
        Assert.Null(BeatFinder.Of(Light(0), 29.97));
    }

    private static void Fill(byte[] pixels, int x, int y, int side, byte value)
    {
        for (int row = y; row < y + side; row++)
        {
            pixels.AsSpan(3 * ((row * Width) + x), 3 * side).Fill(value);
        }
    }

    private static SmallPictures Made(Func<int, (double One, double Other)> lights, Func<int, double> gain)
    {
        RigRandom random = new(3);
        SmallPictures pictures = new(Width, Height, 10);
        byte[] pixels = new byte[3 * Width * Height];
        for (int t = 0; t < 600; t++)
        {
            (double one, double other) = lights(t);
            for (int p = 0; p < Width * Height; p++)
            {
                int x = p % Width;
                int y = p / Width;
                double level = 40 + (x / 2.0)
                    + (Math.Abs(x - 12) <= 2 && Math.Abs(y - 15) <= 2 ? one - 60 : 0)
                    + (Math.Abs(x - 42) <= 2 && Math.Abs(y - 20) <= 2 ? other - 60 : 0);
                pixels.AsSpan(3 * p, 3).Fill((byte)Math.Clamp(Math.Round((level * gain(t)) + random.Gaussian()), 0, 255));
            }

            pictures.Add(pixels);
        }

        return pictures;
    }
}
