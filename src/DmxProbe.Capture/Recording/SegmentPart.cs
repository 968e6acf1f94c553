using DmxProbe.Protocols.Records;

namespace DmxProbe.Capture.Recording;

/// <summary>A segment in its place.</summary>
/// <param name="Path">Its file.</param>
/// <param name="PauseUntil">For the first segment of a run behind another run: when it begins. Until then nobody recorded.</param>
internal readonly record struct SegmentPart(string Path, Timestamp? PauseUntil);
