using System.Globalization;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Video;

/// <summary>Writes the light of a video's regions as a trace: CSV that <see cref="Locate.TraceReader"/> reads.</summary>
public static class TraceWriter
{
    /// <summary>Writes it.</summary>
    /// <param name="output">Where to; left open.</param>
    /// <param name="trace">The light.</param>
    /// <param name="start">When the first picture was taken; null = unknown, the trace then says so.</param>
    /// <param name="clockError">How far that may be off, s.</param>
    public static void Write(TextWriter output, VideoTrace trace, Timestamp? start, double clockError)
    {
        ArgumentNullException.ThrowIfNull(output);
        ArgumentNullException.ThrowIfNull(trace);
        bool several = trace.Regions.Count > 1;
        output.Write(start is null
            ? Locate.TraceClock.Unknown.ToString() + "\n"
            : clockError > 0 ? new Locate.TraceClock(clockError).ToString() + "\n" : "");
        output.Write(several ? "time,region,r,g,b\n" : "time,r,g,b\n");
        foreach (RegionTrace region in trace.Regions)
        {
            string name = several ? region.Name + "," : "";
            foreach (LightSample sample in region.Samples)
            {
                string time = start is Timestamp first
                    ? (first + Duration.FromSeconds(sample.Seconds)).ToString()
                    : sample.Seconds.ToString("0.0000", CultureInfo.InvariantCulture);
                output.Write(string.Create(CultureInfo.InvariantCulture, $"{time},{name}{sample.Red:0.00000},{sample.Green:0.00000},{sample.Blue:0.00000}\n"));
            }
        }
    }
}
