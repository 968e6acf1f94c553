using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Arbitration;

/// <summary>A sender of the universe as it stands for one slot.</summary>
/// <param name="Sender">Index of the sender.</param>
/// <param name="Value">The level it sends; -1 where it does not send the slot, or it is not known.</param>
/// <param name="PacketPriority">Its packet priority; -1 where the protocol has none.</param>
/// <param name="AddressPriority">Its per-address priority of the slot, 0 = not sourced; -1 where it sends none.</param>
/// <param name="LeftOut">True for one that a node does not merge: a third, or one after a cancelled merge.</param>
/// <param name="Last">When it was last heard.</param>
public sealed record Contender(int Sender, int Value, int PacketPriority, int AddressPriority, bool LeftOut, Timestamp Last);
