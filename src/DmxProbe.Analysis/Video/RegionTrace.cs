namespace DmxProbe.Analysis.Video;

/// <summary>The light of one region over time.</summary>
/// <param name="Name">Its name in the trace's region column: its number, from 1.</param>
/// <param name="Region">Where it is, in pixels of the video.</param>
/// <param name="Samples">The readings, by rising time; clipped pictures are left out.</param>
/// <param name="Clipped">How many pictures were left out because the region was at the camera's end.</param>
/// <param name="Swing">From the 2nd to the 98th percentile of the strongest channel, linear light.</param>
/// <param name="Beat">A steady beat, Hz; null when none stands out.</param>
public sealed record RegionTrace(
    string Name, PictureRegion Region, IReadOnlyList<LightSample> Samples, int Clipped, double Swing, double? Beat);
