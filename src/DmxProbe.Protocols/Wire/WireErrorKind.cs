namespace DmxProbe.Protocols.Wire;

/// <summary>Why bytes are not the packet that was asked for. Three outcomes stay apart: not this protocol, cut short, wrong.</summary>
public enum WireErrorKind
{
    /// <summary>No error.</summary>
    None,

    /// <summary>The bytes are something else: another protocol, another packet type.</summary>
    NotThisProtocol,

    /// <summary>The bytes end before the packet does.</summary>
    Truncated,

    /// <summary>A field contradicts the layout (a length larger than allowed, a vector nobody defined).</summary>
    Invalid,

    /// <summary>A fragment of an IP datagram: recognised, not reassembled.</summary>
    Fragment,
}
