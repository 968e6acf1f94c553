namespace DmxProbe.Analysis.Diagnosis.Units;

/// <summary>What one slot of one stream did.</summary>
/// <param name="Value">Value at the end, 0 to 255.</param>
/// <param name="Least">Least value.</param>
/// <param name="Greatest">Greatest value.</param>
/// <param name="Changes">In how many frames it differed from the frame before.</param>
/// <param name="Jumps">How often it jumped by more than 200: what the low byte of a slow ramp does.</param>
public readonly record struct SlotActivity(byte Value, byte Least, byte Greatest, int Changes, int Jumps);
