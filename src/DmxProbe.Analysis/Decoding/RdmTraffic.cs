using DmxProbe.Protocols.ArtNet;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Decoding;

/// <summary>
/// An Art-Net packet about RDM (ArtTodRequest, ArtTodData, ArtTodControl, ArtRdm, ArtRdmSub). A view over the record's bytes,
/// valid until <see cref="IFrameSink.OnRdm"/> returns. RDM on a line is a frame of START code CCh instead.
/// </summary>
public readonly ref struct RdmTraffic
{
    /// <summary>When it arrived.</summary>
    public required Timestamp Time { get; init; }

    /// <summary>Number of the record that carried it.</summary>
    public required long Record { get; init; }

    /// <summary>Which packet it is; its view reads <see cref="Payload"/>.</summary>
    public required ArtOpCode OpCode { get; init; }

    /// <summary>The UDP payload, as far as captured; its fixed fields are there.</summary>
    public required ReadOnlySpan<byte> Payload { get; init; }
}
