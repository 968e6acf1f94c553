using DmxProbe.Analysis.Decoding.Line;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Decoding;

/// <summary>Takes what a decoder finds, in the order of the records, on one thread.</summary>
public interface IFrameSink
{
    /// <summary>A frame; its slots are valid until this returns.</summary>
    void OnFrame(in DmxFrame frame);

    /// <summary>
    /// A frame that differs from the one before it of its stream in nothing but time, record, number, print and slots, whose
    /// count is the same. Who has a short way for such frames may take it here; most have none.
    /// </summary>
    /// <param name="stream">Index in <see cref="StreamTable"/>.</param>
    /// <param name="time">When it arrived.</param>
    /// <param name="sequence">Its sequence number, which counts.</param>
    /// <param name="print">What tells it from a copy.</param>
    /// <param name="slots">Slot 1 first; valid until this returns.</param>
    /// <returns>False: nothing was done, and <see cref="OnFrame"/> comes for the same frame.</returns>
    bool TryRepeat(int stream, Timestamp time, byte sequence, PacketPrint print, ReadOnlySpan<byte> slots) => false;

    /// <summary>
    /// Whether <see cref="TryRepeat"/> takes every frame it is offered, so that it may be asked after another has taken it already.
    /// </summary>
    bool TakesEveryRepeat => false;

    /// <summary>Anything else worth knowing: a poll, a reply, a synchronization packet, a damaged packet, a loss.</summary>
    void OnEvent(in LinkEvent linkEvent);

    /// <summary>
    /// A packet that carries no levels and yet tells about the network: ARP, IGMP, MLD, a fragment. Its octets are valid
    /// until this returns; most analyzers have no use for it.
    /// </summary>
    void OnNetworkPacket(in NetworkPacket packet)
    {
    }

    /// <summary>
    /// The times of a packet on a line, after its <see cref="OnFrame"/> (a discovery reply has no frame). Only line edges
    /// show them; most analyzers have no use for them.
    /// </summary>
    void OnLineTiming(in LineTiming timing)
    {
    }

    /// <summary>An Art-Net packet about RDM, valid until this returns; most analyzers have no use for it.</summary>
    void OnRdm(in RdmTraffic traffic)
    {
    }
}
