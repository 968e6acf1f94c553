using DmxProbe.Testing.Network.Packets;

namespace DmxProbe.Testing.Arbitration;

/// <summary>An sACN source of a script.</summary>
/// <param name="Host">Its machine; the host's name is the source's.</param>
/// <param name="Cid">Its CID.</param>
public sealed record ScriptSource(Host Host, string Cid);
