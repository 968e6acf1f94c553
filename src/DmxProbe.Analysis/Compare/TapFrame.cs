using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Compare;

/// <summary>One level frame of a tap.</summary>
/// <param name="Time">When.</param>
/// <param name="Content">Which slots it carried: an index of <see cref="TapRecording.Slots"/>; equal neighbours share one.</param>
/// <param name="Priority">sACN priority; 100 where there is none.</param>
/// <param name="IsEnd">True for a packet that ends its stream; it carries no levels.</param>
/// <param name="IsDamaged">True where characters had framing errors or were lost.</param>
/// <param name="Lost">Frames of its stream lost up to it, by their sequence numbers; -1 where it carries none.</param>
public readonly record struct TapFrame(Timestamp Time, int Content, byte Priority, bool IsEnd, bool IsDamaged, long Lost = -1);
