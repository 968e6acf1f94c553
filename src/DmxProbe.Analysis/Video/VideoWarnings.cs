using System.Globalization;

namespace DmxProbe.Analysis.Video;

/// <summary>What to know about a trace from a video before relying on it, in sentences.</summary>
internal static class VideoWarnings
{
    private const double MuchClipped = 0.1;
    private const double SmallSwing = 0.02;

    public static List<string> Of(VideoTrace trace, double slowestRate)
    {
        List<string> warnings = [];
        double rate = trace.PicturesPerSecond;
        if (rate > 0)
        {
            double seen50 = FlickerAlias.Seen(FlickerAlias.Mains50, rate);
            double seen60 = FlickerAlias.Seen(FlickerAlias.Mains60, rate);
            foreach ((double flicker, double seen, string mains) in new[] { (FlickerAlias.Mains50, seen50, "50 Hz"), (FlickerAlias.Mains60, seen60, "60 Hz") })
            {
                if (FlickerAlias.LooksLikeAFade(seen))
                {
                    warnings.Add(Text($"on {mains} mains, lamps that flicker at {flicker:0} Hz seem to fade at {seen:0.00} Hz in this video; take it with an exposure of 1/{flicker / 2:0} s, which averages the flicker out"));
                }
            }

            if (rate < slowestRate)
            {
                warnings.Add(Text($"only {rate:0.0} pictures a second: quick changes are missed; film with more light, or at 30 pictures a second"));
            }
        }

        foreach (RegionTrace region in trace.Regions)
        {
            About(trace, region, warnings);
        }

        if (trace.Missing >= 1)
        {
            warnings.Add(Text($"about {trace.Missing:0} pictures are missing, the longest gap is {trace.LongestGap:0.00} s; true times were used"));
        }

        if (trace.Untimed > 0)
        {
            warnings.Add(Text($"{trace.Untimed:0} pictures have no time of their own, or one that does not rise, and were left out"));
        }

        if (trace.Drift.IsCorrected)
        {
            warnings.Add(Text($"the exposure wandered by {100 * trace.Drift.Range:0} % and was divided out by the steady parts of the picture; lock the exposure next time")
                + "; what was too bright for the camera meanwhile cannot be had back: if locate leaves part of the light unexplained, film it darker, or choose the spot that the light throws (--region)");
        }
        else if (!trace.Drift.IsKnown)
        {
            warnings.Add("nothing in the picture is both steady and bright enough to show whether the exposure wandered; lock the exposure, or have a steadily lit object in the picture");
        }

        if (trace.Facts.Curve == ToneCurve.PerceptualQuantiser)
        {
            warnings.Add("the video is in a display-referred high dynamic range; a plain recording follows the light more closely");
        }

        return warnings;
    }

    private static void About(VideoTrace trace, RegionTrace region, List<string> warnings)
    {
        string name = trace.Regions.Count > 1 ? "region " + region.Name : "the region";
        if (region.Clipped > 0)
        {
            double share = (double)region.Clipped / Math.Max(1, region.Clipped + region.Samples.Count);
            warnings.Add(Text($"{name}: {region.Clipped:0} of {region.Clipped + region.Samples.Count:0} pictures were clipped and left out")
                + (share > MuchClipped ? "; lower the exposure, or choose the spot that the light throws instead of the light (--region)" : ""));
        }

        if (region.Swing < SmallSwing)
        {
            warnings.Add(Text($"{name} changes by only {100 * region.Swing:0.0} % of the camera's range; choose a closer region"));
        }

        if (region.Beat is double beat)
        {
            warnings.Add(Text($"{name} beats steadily at {beat:0.00} Hz: a chase, or flicker that the camera samples too slowly{Source(beat, trace.PicturesPerSecond)}; film it again at another picture rate: a chase keeps its rate, flicker does not"));
        }
    }

    private static string Source(double beat, double rate)
    {
        bool fifty = Math.Abs(FlickerAlias.Seen(FlickerAlias.Mains50, rate) - beat) < 0.2;
        bool sixty = Math.Abs(FlickerAlias.Seen(FlickerAlias.Mains60, rate) - beat) < 0.2;
        return fifty ? " (100 Hz of 50 Hz mains would look like this)" : sixty ? " (120 Hz of 60 Hz mains would look like this)" : "";
    }

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
