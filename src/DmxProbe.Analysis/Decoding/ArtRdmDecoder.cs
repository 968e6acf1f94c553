using DmxProbe.Protocols.ArtNet;
using DmxProbe.Protocols.Records;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Analysis.Decoding;

/// <summary>Art-Net packets about RDM: whole enough to be read, they are handed on as they are.</summary>
internal static class ArtRdmDecoder
{
    /// <summary>Whether a packet is about RDM.</summary>
    public static bool IsAboutRdm(ArtOpCode opCode) =>
        opCode is ArtOpCode.TodRequest or ArtOpCode.TodData or ArtOpCode.TodControl or ArtOpCode.Rdm or ArtOpCode.RdmSub;

    /// <summary>Hands a packet on.</summary>
    /// <returns>Why it could not be read; kind None when all is well.</returns>
    public static WireError Decode(in CaptureRecord record, ArtOpCode opCode, ReadOnlySpan<byte> payload, IFrameSink sink)
    {
        WireError error = default;
        bool isRead = opCode switch
        {
            ArtOpCode.TodRequest => ArtTodRequestPacket.TryParse(payload, out _, out error),
            ArtOpCode.TodData => ArtTodDataPacket.TryParse(payload, out _, out error),
            ArtOpCode.TodControl => ArtTodControlPacket.TryParse(payload, out _, out error),
            ArtOpCode.Rdm => ArtRdmPacket.TryParse(payload, out _, out error),
            _ => ArtRdmSubPacket.TryParse(payload, out _, out error),
        };
        if (!isRead)
        {
            return error;
        }

        sink.OnEvent(new LinkEvent(LinkEventKind.ArtOther, record.Time, record.Number, -1, default, (long)opCode, 0));
        sink.OnRdm(new RdmTraffic { Time = record.Time, Record = record.Number, OpCode = opCode, Payload = payload });
        return default;
    }
}
