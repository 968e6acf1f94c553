namespace DmxProbe.Protocols.CaptureFiles.Lines;

/// <summary>Where a finished run lies in an <see cref="EdgeSlice"/>.</summary>
/// <param name="Channel">Its channel.</param>
/// <param name="Cell">Index of its first 32-bit number.</param>
/// <param name="Cells">How many there are.</param>
/// <param name="StartTick">Where it starts.</param>
/// <param name="EndTick">Where it ends.</param>
internal readonly record struct SliceRun(int Channel, int Cell, int Cells, long StartTick, long EndTick);
