namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>
/// What a unit says it stores: an RDM reply seen on the wire (DEVICE_INFO, DMX_START_ADDRESS of E1.20), or its own
/// menu. It tells what is set, not that the data arrives.
/// </summary>
/// <param name="Address">Start address, 1 to 512.</param>
/// <param name="Footprint">Slots it takes; 0 = not said.</param>
/// <param name="Personality">Number of its personality, from 1; 0 = not said.</param>
public sealed record RdmReport(int Address, int Footprint = 0, int Personality = 0);
