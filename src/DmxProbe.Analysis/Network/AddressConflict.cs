using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Network;

/// <summary>One IPv4 address that two adapters claimed within a minute.</summary>
/// <param name="Address">The address.</param>
/// <param name="Macs">The adapters that claimed it, in order of appearance, at most four.</param>
/// <param name="Changes">Times the claim went over to another adapter within a minute.</param>
/// <param name="IsBackAndForth">True when an adapter claimed it again after another had.</param>
/// <param name="AreOneHost">True when the same adapters also share another address: one computer with two network interfaces.</param>
/// <param name="First">When the second claimed it.</param>
/// <param name="Last">When it last went over.</param>
/// <param name="FirstRecord">Record of the second claim.</param>
public sealed record AddressConflict(
    string Address,
    IReadOnlyList<string> Macs,
    long Changes,
    bool IsBackAndForth,
    bool AreOneHost,
    Timestamp First,
    Timestamp Last,
    long FirstRecord);
