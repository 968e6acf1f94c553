using DmxProbe.Analysis.Video;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Reporting.Json;

/// <summary>The answer of trace from-video as JSON.</summary>
public static class TraceJson
{
    /// <summary>Writes the answer.</summary>
    /// <param name="output">Where to, as UTF-8; left open.</param>
    /// <param name="trace">The light.</param>
    /// <param name="start">When the first picture was taken; null = unknown.</param>
    /// <param name="file">The trace's file.</param>
    /// <param name="picture">The picture's file.</param>
    /// <param name="cautions">What to know about it.</param>
    public static void Write(Stream output, VideoTrace trace, Timestamp? start, string file, string picture, IEnumerable<string> cautions)
    {
        ArgumentNullException.ThrowIfNull(trace);
        JsonPage.Write(output, "trace from-video", json =>
        {
            json.Text("trace", file);
            json.Text("picture", picture);
            json.Time("start", start);
            json.Figure("lengthSeconds", trace.Length);
            json.WriteNumber("width", trace.Facts.Width);
            json.WriteNumber("height", trace.Facts.Height);
            json.WriteNumber("pictures", trace.Pictures);
            json.Figure("picturesPerSecond", trace.PicturesPerSecond);
            json.Figure("longestGapSeconds", trace.LongestGap);
            json.WriteNumber("withoutTime", trace.Untimed);
            json.Text("toneCurve", trace.Facts.Curve.Name);
            json.Figure("exposureDrift", trace.Drift.IsKnown ? trace.Drift.Range : null);
            json.WriteBoolean("exposureCorrected", trace.Drift.IsCorrected);
            json.Figure("mains50SeenAtHz", Seen(FlickerAlias.Mains50, trace));
            json.Figure("mains60SeenAtHz", Seen(FlickerAlias.Mains60, trace));
            json.Objects("regions", trace.Regions, (writer, region) =>
            {
                writer.Text("name", region.Name);
                writer.Numbers("rectangle", [region.Region.X, region.Region.Y, region.Region.Width, region.Region.Height]);
                writer.WriteNumber("readings", region.Samples.Count);
                writer.WriteNumber("clipped", region.Clipped);
                writer.Figure("swing", region.Swing);
                writer.Figure("beatHz", region.Beat);
            });
            json.Texts("cautions", cautions);
        });
    }

    private static double? Seen(double flicker, VideoTrace trace) =>
        trace.PicturesPerSecond > 0 ? FlickerAlias.Seen(flicker, trace.PicturesPerSecond) : null;
}
