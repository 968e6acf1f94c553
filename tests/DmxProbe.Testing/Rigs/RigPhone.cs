using DmxProbe.Analysis.Locate;
using DmxProbe.Analysis.Video;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Testing.Rigs;

/// <summary>
/// A phone: pictures at its own rate and moments, one in twenty dropped and a few at once every 20 s or so, and an exposure
/// that is not locked: it follows the brightness of the scene, of which the light makes up to a quarter, within half a second.
/// How phones drop pictures and how fast they expose is common practice, no source.
/// </summary>
public sealed class RigPhone
{
    private const double GridRate = 30;
    private const double DroppedShare = 0.05;
    private const double MeanBetweenBursts = 20; // s
    private const double SceneShare = 0.3;
    private const double ServoSeconds = 0.5;
    private const double CameraGrain = 1.5; // code values, deviation

    private const int Width = 32;
    private const int Height = 18;
    private const double FullLight = 0.5;
    private static readonly PictureRegion Spot = new(5, 5, 7, 7);
    private readonly RigRandom _random;
    private readonly double _rate;

    /// <summary>Prepares a phone.</summary>
    /// <param name="picturesPerSecond">Its picture rate.</param>
    /// <param name="random">Drawn from.</param>
    public RigPhone(double picturesPerSecond, RigRandom random)
    {
        _rate = picturesPerSecond;
        _random = random;
    }

    /// <summary>Readings of the light with white noise: a phone whose trace came from elsewhere.</summary>
    /// <param name="clean">The light at the camera, on the grid of the histories, one or three channels.</param>
    /// <param name="decibels">Signal to noise.</param>
    /// <param name="start">When the grid begins.</param>
    public LightTrace Readings(double[][] clean, double decibels, Timestamp start)
    {
        double noise = RigCamera.Noise(clean, decibels);
        double[] gain = Servo(clean);
        double[] places = Moments(clean[0].Length);
        return new LightTrace(
            [.. places.Select(place => start + Duration.FromSeconds(place / GridRate))],
            [.. clean.Select(channel => places.Select(place => 0.05 + (0.8 * ((At(gain, place) * At(channel, place)) + (noise * _random.Gaussian())))).ToArray())]);
    }

    /// <summary>The light as pictures before a steadily lit wall, measured by the code that measures a video.</summary>
    /// <param name="clean">The light at the camera, three channels.</param>
    /// <param name="start">When the grid begins.</param>
    public LightTrace Filmed(double[][] clean, Timestamp start)
    {
        double[] gain = Servo(clean);
        double[] places = Moments(clean[0].Length);
        SmallPictures small = new(Width, Height, _rate);
        RegionMeter meter = new(Spot, Width, Height, ToneCurve.Bt709);
        PictureTimes times = new();
        _ = times.Add("[Parsed_showinfo_1 @ 0] config in time_base: 1/90000, frame_rate: 30/1");
        byte[] picture = new byte[3 * Width * Height];
        for (int n = 0; n < places.Length; n++)
        {
            Draw(picture, [.. clean.Select(channel => At(channel, places[n]))], At(gain, places[n]));
            small.Add(picture);
            meter.Add(picture, n);
            long ticks = (long)Math.Round(places[n] / GridRate * 90000);
            _ = times.Add(System.FormattableString.Invariant($"[Parsed_showinfo_1 @ 0] n:{n,4} pts:{ticks,7} pts_time:0 "));
        }

        VideoFacts facts = new(Width, Height, _rate, places.Length / _rate, ToneCurve.Bt709, null, false);
        RegionTrace trace = VideoTrace.Of(facts, [Spot], [meter], times, ExposureDrift.Of(small, ToneCurve.Bt709)).Regions[0];
        Timestamp first = start + Duration.FromSeconds(places[0] / GridRate);
        return new LightTrace(
            [.. trace.Samples.Select(sample => first + Duration.FromSeconds(sample.Seconds))],
            [[.. trace.Samples.Select(sample => sample.Red)], [.. trace.Samples.Select(sample => sample.Green)], [.. trace.Samples.Select(sample => sample.Blue)]]);
    }

    /// <summary>Places on the grid at which a picture is taken and kept.</summary>
    private double[] Moments(int samples)
    {
        List<double> places = [];
        double burst = _random.Exponential(MeanBetweenBursts) * GridRate;
        double step = GridRate / _rate;
        for (double place = _random.Between(0, step); place < samples - 1; place += step)
        {
            if (place >= burst)
            {
                place += step * (3 + _random.Below(6));
                burst = place + (_random.Exponential(MeanBetweenBursts) * GridRate);
            }

            if (place < samples - 1 && !_random.Chance(DroppedShare))
            {
                places.Add(place);
            }
        }

        return [.. places];
    }

    private static double[] Servo(double[][] clean)
    {
        double keep = Math.Exp(-1 / (ServoSeconds * GridRate));
        double state = double.NaN;
        double[] gain = new double[clean[0].Length];
        for (int t = 0; t < gain.Length; t++)
        {
            double scene = 1 + (SceneShare * Math.Clamp(clean.Average(channel => channel[t]), 0, 1.5));
            state = double.IsNaN(state) ? scene : (keep * state) + ((1 - keep) * scene);
            gain[t] = 1 / state;
        }

        return gain;
    }

    private static double At(double[] values, double place)
    {
        int whole = Math.Min((int)place, values.Length - 2);
        return values[whole] + ((place - whole) * (values[whole + 1] - values[whole]));
    }

    private void Draw(byte[] picture, double[] light, double gain)
    {
        for (int y = 0; y < Height; y++)
        {
            for (int x = 0; x < Width; x++)
            {
                double distance = Math.Sqrt(((x - 8) * (x - 8)) + ((y - 8) * (y - 8)));
                double beam = distance <= 3 ? 1 : Math.Exp(3 - distance);
                double wall = 0.08 + (0.12 * x / Width);
                for (int c = 0; c < 3; c++)
                {
                    picture[(3 * ((y * Width) + x)) + c] = Code(gain * (wall + (FullLight * beam * light[c])));
                }
            }
        }
    }

    // Rec. ITU-R BT.709, item 1.2, from light to code.
    private byte Code(double light)
    {
        double clamped = Math.Clamp(light, 0, 1);
        double value = clamped < 0.018 ? 4.5 * clamped : (1.099 * Math.Pow(clamped, 0.45)) - 0.099;
        return (byte)Math.Clamp(Math.Round((255 * value) + (CameraGrain * _random.Gaussian())), 0, 255);
    }
}
