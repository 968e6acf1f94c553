namespace DmxProbe.Analysis.Rdm;

/// <summary>A slot as a device describes it.</summary>
/// <param name="Number">Its number, from 1 = the start address.</param>
/// <param name="Kind">What it is by SLOT_INFO, in words; empty where the device did not say.</param>
/// <param name="Name">What the device calls it (SLOT_DESCRIPTION); untrusted, empty where it did not say.</param>
public sealed record RdmSlot(int Number, string Kind, string Name);
