namespace DmxProbe.Analysis.Rdm;

/// <summary>A part of a device with an address of its own, as a dimmer of a rack.</summary>
/// <param name="Number">1 to 512.</param>
/// <param name="StartAddress">Its start address; 0 = none.</param>
/// <param name="Footprint">Slots it takes; null where it did not say.</param>
public sealed record RdmSubDevice(int Number, int StartAddress, int? Footprint);
