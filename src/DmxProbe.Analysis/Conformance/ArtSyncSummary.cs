using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Conformance;

/// <summary>Who sends ArtSync, and whether devices can take it.</summary>
/// <param name="Address">IPv4 address it comes from.</param>
/// <param name="Packets">ArtSync packets.</param>
/// <param name="Foreign">Those that came while ArtDmx came from others only: devices ignore them.</param>
/// <param name="FramesAfterStop">ArtDmx packets of this sender 4 s and more after its last ArtSync.</param>
/// <param name="StoppedFrom">When devices went back to acting at once: 4 s after its last ArtSync.</param>
/// <param name="First">Its first ArtSync.</param>
/// <param name="Last">Its last ArtSync.</param>
/// <param name="FirstRecord">Record of its first ArtSync.</param>
public sealed record ArtSyncSummary(
    string Address,
    long Packets,
    long Foreign,
    long FramesAfterStop,
    Timestamp StoppedFrom,
    Timestamp First,
    Timestamp Last,
    long FirstRecord);
