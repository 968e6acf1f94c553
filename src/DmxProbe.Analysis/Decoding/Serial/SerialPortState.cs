using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Decoding.Serial;

/// <summary>What the decoder of one serial port keeps between records.</summary>
internal abstract class SerialPortState(UniverseId universe, string name, string measuredAt)
{
    /// <summary>Octets of the longest packet: START code and 512 slots.</summary>
    protected const int LongestPacket = 513;

    /// <summary>The port as a universe.</summary>
    public UniverseId Universe { get; } = universe;

    /// <summary>What the port is called; untrusted text.</summary>
    public string Name { get; } = name;

    /// <summary>What kind of port it is, in the words of docs/json.md.</summary>
    public string MeasuredAt { get; } = measuredAt;

    /// <summary>Takes the characters of a record.</summary>
    public abstract void Take(in CaptureRecord record, SerialOutput output);

    /// <summary>Octets are missing from here on: the packet in work is no packet.</summary>
    public abstract void Lost();
}
