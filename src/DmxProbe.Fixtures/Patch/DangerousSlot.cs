namespace DmxProbe.Fixtures.Patch;

/// <summary>A slot that is not to be exercised.</summary>
/// <param name="Universe">Universe by the sheet's numbering.</param>
/// <param name="Slot">The slot; above 512 where the footprint runs past the universe.</param>
/// <param name="Function">The chart's word for it; untrusted text.</param>
/// <param name="Why">Why.</param>
public sealed record DangerousSlot(int Universe, int Slot, string Function, string Why);
