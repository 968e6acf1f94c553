using DmxProbe.Analysis.Video;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Cli.Video;

/// <summary>What <c>trace from-video</c> was asked.</summary>
/// <param name="Video">The video's file.</param>
/// <param name="Regions">Where the lights are; none = found.</param>
/// <param name="Start">When the first picture was taken, where the person says so.</param>
/// <param name="Output">The trace's file.</param>
/// <param name="Picture">The picture's file.</param>
/// <param name="Force">Whether files may be written over.</param>
internal sealed record TraceAsked(
    string Video, IReadOnlyList<PictureRegion> Regions, Timestamp? Start, string Output, string Picture, bool Force);
