using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Testing.Network;

/// <summary>What a capture on the simulated network recorded, and the truth beside it.</summary>
/// <param name="Start">Time 0 of the simulation.</param>
/// <param name="Packets">The packets in order of time.</param>
/// <param name="Streams">The truth for each universe of each sender, in order of universe and sender.</param>
public sealed record SimulatedCapture(
    Timestamp Start,
    IReadOnlyList<SimulatedPacket> Packets,
    IReadOnlyList<StreamTruth> Streams)
{
    /// <summary>The truth for one universe of one sender.</summary>
    public StreamTruth Truth(UniverseId universe, string sender) =>
        Streams.Single(s => s.Universe == universe && s.Sender == sender);

    /// <summary>Reads the packets without a file.</summary>
    public SimulatedSource ToSource() => new(this);
}
