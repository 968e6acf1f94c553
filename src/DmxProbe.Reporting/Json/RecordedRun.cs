namespace DmxProbe.Reporting.Json;

/// <summary>What a run of the recorder did.</summary>
/// <param name="Folder">Where to; untrusted text.</param>
/// <param name="Records">Records written, marks included.</param>
/// <param name="Marks">Marks among them.</param>
/// <param name="Octets">Octets written.</param>
/// <param name="Segments">Segments begun.</param>
/// <param name="Deleted">Segments that the ring deleted.</param>
/// <param name="LostBySource">Records that the source says it lost.</param>
/// <param name="NotRecorded">Records that came while nothing could be written.</param>
/// <param name="LongestAtRiskMs">The longest time anything written was at risk of a power cut, milliseconds.</param>
public sealed record RecordedRun(
    string Folder,
    long Records,
    long Marks,
    long Octets,
    int Segments,
    int Deleted,
    long LostBySource,
    long NotRecorded,
    double LongestAtRiskMs);
