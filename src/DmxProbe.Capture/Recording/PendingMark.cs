using DmxProbe.Protocols.Records;

namespace DmxProbe.Capture.Recording;

/// <summary>A mark on its way into the recording.</summary>
/// <param name="Text">At most 1,024 octets of UTF-8.</param>
/// <param name="Time">When it was made, by the computer's clock.</param>
/// <param name="IsNotice">True for what the program itself notes: a clock that was set, an interface that went.</param>
/// <param name="SpoolFile">The file to delete once the mark is safe; null for none.</param>
internal sealed record PendingMark(byte[] Text, Timestamp Time, bool IsNotice, string? SpoolFile);
