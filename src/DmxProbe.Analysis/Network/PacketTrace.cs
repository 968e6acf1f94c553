using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Network;

/// <summary>What is kept of the last packet of a stream: little, because every packet reads and writes it.</summary>
internal struct PacketTrace
{
    /// <summary>What tells it from another one; default before the first.</summary>
    public PacketPrint Print;

    /// <summary>When it came.</summary>
    public Timestamp Last;

    /// <summary>IPv4 address it came from.</summary>
    public uint Host;

    /// <summary>Packets of the heap that it may be part of; 0 while there is no gap before.</summary>
    public ushort Heap;

    /// <summary>Its sequence number.</summary>
    public byte Sequence;
}
