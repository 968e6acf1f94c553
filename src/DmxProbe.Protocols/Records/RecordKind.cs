namespace DmxProbe.Protocols.Records;

/// <summary>What a <see cref="CaptureRecord"/> holds.</summary>
public enum RecordKind
{
    /// <summary>A packet as it was on a network interface, starting with the header of its link type.</summary>
    Packet,

    /// <summary>No bytes: a statement that the capture lost <see cref="CaptureRecord.LostBefore"/> records here.</summary>
    Loss,

    /// <summary>Levels of one line channel over a stretch of time; <see cref="Line.EdgeRun"/> reads the bytes.</summary>
    Edges,

    /// <summary>Octets from a serial port with the line status of each; <see cref="Serial.SerialRun"/> reads the bytes.</summary>
    Serial,

    /// <summary>A mark that the operator made: UTF-8 text, untrusted, at most 1,024 octets.</summary>
    Mark,

    /// <summary>One reading of a light; <see cref="LightReading"/> reads the bytes.</summary>
    Light,
}
