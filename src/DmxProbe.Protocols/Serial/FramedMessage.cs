namespace DmxProbe.Protocols.Serial;

/// <summary>
/// A whole message of a framed interface: 7E, label, length low, length high, payload, E7. A view, valid until the scanner
/// takes the next octet.
/// </summary>
public readonly ref struct FramedMessage
{
    /// <summary>First octet of a message.</summary>
    public const byte Start = 0x7E;

    /// <summary>Last octet of a message.</summary>
    public const byte End = 0xE7;

    /// <summary>Octets before the payload.</summary>
    public const int HeaderLength = 4;

    /// <summary>What the message is.</summary>
    public required byte Label { get; init; }

    /// <summary>What it holds.</summary>
    public required ReadOnlySpan<byte> Payload { get; init; }
}
