namespace DmxProbe.Protocols.Records;

/// <summary>What the records of an interface hold.</summary>
public enum InterfaceContent
{
    /// <summary>Packets of a network (<see cref="RecordKind.Packet"/>).</summary>
    Network,

    /// <summary>One channel of a line recording (<see cref="RecordKind.Edges"/>).</summary>
    Line,

    /// <summary>A bare serial port at 250 kbit/s: what is on the line, octet by octet (<see cref="RecordKind.Serial"/>).</summary>
    SerialUart,

    /// <summary>A serial port whose interface sends framed messages (<see cref="RecordKind.Serial"/>).</summary>
    SerialFramed,

    /// <summary>Marks of the operator (<see cref="RecordKind.Mark"/>).</summary>
    Marks,

    /// <summary>Readings of one light (<see cref="RecordKind.Light"/>).</summary>
    Light,
}
