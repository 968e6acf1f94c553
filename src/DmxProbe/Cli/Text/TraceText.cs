using System.Globalization;

using DmxProbe.Analysis.Video;
using DmxProbe.Cli.Video;

namespace DmxProbe.Cli.Text;

/// <summary>The answer of <c>trace from-video</c> as text: what was written, the regions, then what to know about it.</summary>
internal static class TraceText
{
    private const int LabelWidth = 10;

    /// <summary>Writes the answer.</summary>
    public static void Write(TextPage page, TraceRun run)
    {
        VideoTrace trace = run.Trace;
        bool several = trace.Regions.Count > 1;
        page.Paragraph(
            Text($"{trace.Length:0.0} s of light at {trace.PicturesPerSecond:0.00} pictures a second, {(several ? Text($"{trace.Regions.Count} regions") : "one region")}: {run.Output}."),
            tone: Tone.Good);
        page.Blank();
        page.Labelled("Check", $"look at {run.Picture}: is the {(several ? "numbered frame you mean" : "frame")} on the light, and on nothing else?", LabelWidth);
        page.Labelled("Next", "dmxprobe locate CAPTURE --patch SHEET --unit UNIT --trace " + run.Output + (several ? " --region NUMBER" : ""), LabelWidth);
        foreach (string warning in run.Warnings)
        {
            page.Labelled("Mind", warning, LabelWidth);
        }

        page.Blank();
        page.Heading(run.Found ? "Regions, found by how much they change" : "Regions");
        foreach (RegionTrace region in trace.Regions)
        {
            page.Labelled(
                region.Name,
                Text($"--region {region.Region}; changes by {100 * region.Swing:0.0} % of the camera's range; {region.Samples.Count} readings, {region.Clipped} clipped"),
                LabelWidth);
        }

        page.Blank();
        page.Heading("Evidence");
        page.Paragraph(Text($"video: {trace.Facts.Width} x {trace.Facts.Height} pixels, {trace.Pictures} pictures, longest gap {1000 * trace.LongestGap:0} ms, tone curve {trace.Facts.Curve.Name}"), indent: 2);
        page.Paragraph(run.Start is { } start ? $"first picture: {start}" : "first picture: unknown, times count from it", indent: 2);
        page.Paragraph(
            Text($"flicker: this camera sees 100 Hz (50 Hz mains) as {Seen(FlickerAlias.Mains50, trace):0.00} Hz and 120 Hz (60 Hz mains) as {Seen(FlickerAlias.Mains60, trace):0.00} Hz"),
            indent: 2);
    }

    private static double Seen(double flicker, VideoTrace trace) =>
        trace.PicturesPerSecond > 0 ? FlickerAlias.Seen(flicker, trace.PicturesPerSecond) : flicker;

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
