namespace DmxProbe.Analysis.Video;

/// <summary>What came of a video: the light of its regions, and what to know about it.</summary>
public sealed class VideoTrace
{
    private const double SlowestRate = 20;

    private VideoTrace(VideoFacts facts, IReadOnlyList<RegionTrace> regions, ExposureDrift drift, int pictures, int untimed, double[] gaps)
    {
        Facts = facts;
        Regions = regions;
        Drift = drift;
        Pictures = pictures;
        Untimed = untimed;
        double[] sorted = [.. gaps.Order()];
        double usual = sorted.Length == 0 ? 0 : sorted[sorted.Length / 2];
        PicturesPerSecond = sorted.Length == 0 ? 0 : Rate(sorted, usual);
        LongestGap = sorted.Length == 0 ? 0 : sorted[^1];
        Missing = sorted.Sum(gap => usual > 0 && gap > 1.5 * usual ? Math.Round(gap / usual) - 1 : 0);
        Length = gaps.Sum();
    }

    /// <summary>What the file says of itself.</summary>
    public VideoFacts Facts { get; }

    /// <summary>The regions, in order of their names.</summary>
    public IReadOnlyList<RegionTrace> Regions { get; }

    /// <summary>How the exposure wandered.</summary>
    public ExposureDrift Drift { get; }

    /// <summary>Pictures decoded.</summary>
    public int Pictures { get; }

    /// <summary>Pictures left out because their time is missing or does not rise.</summary>
    public int Untimed { get; }

    /// <summary>Rate of the pictures that follow each other without a gap.</summary>
    public double PicturesPerSecond { get; }

    /// <summary>Longest time between two pictures, s.</summary>
    public double LongestGap { get; }

    /// <summary>About how many pictures are missing in gaps.</summary>
    public double Missing { get; }

    /// <summary>From the first to the last picture, s.</summary>
    public double Length { get; }

    /// <summary>Puts readings and times together.</summary>
    /// <param name="facts">What the file says of itself.</param>
    /// <param name="regions">The regions, in pixels of the video.</param>
    /// <param name="meters">What measured each of them.</param>
    /// <param name="times">When the pictures were taken.</param>
    /// <param name="drift">How the exposure wandered.</param>
    public static VideoTrace Of(
        VideoFacts facts, IReadOnlyList<PictureRegion> regions, IReadOnlyList<RegionMeter> meters, PictureTimes times, ExposureDrift drift)
    {
        ArgumentNullException.ThrowIfNull(facts);
        ArgumentNullException.ThrowIfNull(regions);
        ArgumentNullException.ThrowIfNull(meters);
        ArgumentNullException.ThrowIfNull(times);
        ArgumentNullException.ThrowIfNull(drift);
        int pictures = meters.Count == 0 ? 0 : meters[0].Readings.Count;
        bool[] rises = new bool[pictures];
        List<double> gaps = [];
        double last = double.NegativeInfinity;
        int untimed = 0;
        for (int i = 0; i < pictures; i++)
        {
            rises[i] = i < times.Count && times[i] > last;
            untimed += rises[i] ? 0 : 1;
            if (rises[i])
            {
                if (double.IsFinite(last))
                {
                    gaps.Add(times[i] - last);
                }

                last = times[i];
            }
        }

        VideoTrace bare = new(facts, [], drift, pictures, untimed, [.. gaps]);
        List<RegionTrace> traces = [];
        for (int r = 0; r < meters.Count; r++)
        {
            traces.Add(Trace((r + 1).ToString(System.Globalization.CultureInfo.InvariantCulture), regions[r], meters[r], times, rises, drift, bare.PicturesPerSecond));
        }

        return new VideoTrace(facts, traces, drift, pictures, untimed, [.. gaps]);
    }

    /// <summary>What a person should know before relying on it, a sentence each.</summary>
    public IReadOnlyList<string> Warnings() => VideoWarnings.Of(this, SlowestRate);

    private static RegionTrace Trace(
        string name, PictureRegion region, RegionMeter meter, PictureTimes times, bool[] rises, ExposureDrift drift, double rate)
    {
        List<LightSample> samples = [];
        int clipped = 0;
        foreach (RegionReading reading in meter.Readings)
        {
            if (!rises[reading.Picture])
            {
                continue;
            }

            if (reading.IsClipped)
            {
                clipped++;
                continue;
            }

            double gain = drift.At(reading.Picture);
            samples.Add(new LightSample(times[reading.Picture], reading.Red / gain, reading.Green / gain, reading.Blue / gain));
        }

        return new RegionTrace(name, region, samples, clipped, Swing(samples), BeatFinder.Of(samples, rate));
    }

    private static double Swing(List<LightSample> samples) =>
        samples.Count == 0 ? 0 : Math.Max(Swing(samples, s => s.Red), Math.Max(Swing(samples, s => s.Green), Swing(samples, s => s.Blue)));

    private static double Swing(List<LightSample> samples, Func<LightSample, double> channel)
    {
        double[] sorted = [.. samples.Select(channel).Order()];
        return sorted[(int)(0.98 * (sorted.Length - 1))] - sorted[(int)(0.02 * (sorted.Length - 1))];
    }

    // The mean of the usual gaps: their median alone is rounded to the ticks of the file (33 or 34 ms for 30 pictures a second).
    private static double Rate(double[] sorted, double usual)
    {
        double[] near = [.. sorted.Where(gap => gap > 0.5 * usual && gap < 1.5 * usual)];
        return near.Length / near.Sum();
    }
}
