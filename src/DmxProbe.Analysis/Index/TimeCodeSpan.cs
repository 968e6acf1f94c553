using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Index;

/// <summary>A span in which time code ran at its own pace.</summary>
/// <param name="From">Its first packet.</param>
/// <param name="To">Its last packet so far.</param>
/// <param name="Code">The time code of the first packet, seconds from midnight.</param>
/// <param name="FramesPerSecond">Frames a second of its type, rounded up.</param>
public readonly record struct TimeCodeSpan(Timestamp From, Timestamp To, double Code, int FramesPerSecond);
