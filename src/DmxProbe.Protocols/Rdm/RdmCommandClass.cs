namespace DmxProbe.Protocols.Rdm;

/// <summary>What an RDM packet asks or answers (ANSI E1.20, known from secondary sources).</summary>
public enum RdmCommandClass : byte
{
    /// <summary>Discovery request.</summary>
    Discovery = 0x10,

    /// <summary>Answer to one, except to DISC_UNIQUE_BRANCH.</summary>
    DiscoveryResponse = 0x11,

    /// <summary>Request for a value.</summary>
    Get = 0x20,

    /// <summary>Answer to it.</summary>
    GetResponse = 0x21,

    /// <summary>Request to change a value.</summary>
    Set = 0x30,

    /// <summary>Answer to it.</summary>
    SetResponse = 0x31,
}
