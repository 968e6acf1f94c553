using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Tests.Decoding;

/// <summary>A copy of a frame that the decoder gave.</summary>
internal sealed record CollectedFrame(
    long Record,
    Timestamp Time,
    UniverseId Universe,
    int Stream,
    int Sender,
    byte StartCode,
    byte Sequence,
    byte Priority,
    ushort SyncAddress,
    FrameFlags Flags,
    byte[] Slots);
