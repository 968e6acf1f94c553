namespace DmxProbe.Analysis.Rdm;

/// <summary>Everything RDM showed: devices, and what passed on each universe; immutable.</summary>
/// <param name="Devices">The devices, by universe and UID.</param>
/// <param name="Ports">The universes that RDM passed on.</param>
/// <param name="DevicesNotListed">Devices beyond those that hold state (4,096): messages of theirs.</param>
public sealed record RdmSnapshot(IReadOnlyList<RdmDevice> Devices, IReadOnlyList<RdmPort> Ports, long DevicesNotListed);
