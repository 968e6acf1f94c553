namespace DmxProbe.Protocols.Serial;

/// <summary>Line status of one octet from a serial port.</summary>
[Flags]
public enum SerialStatus : byte
{
    /// <summary>A good character.</summary>
    None = 0,

    /// <summary>The driver reported a break here; the octet is 0 and no character.</summary>
    Break = 1,

    /// <summary>The character had a framing or parity error.</summary>
    Error = 2,

    /// <summary>Characters were lost before this one: the port's or the driver's overrun.</summary>
    Overrun = 4,
}
