using DmxProbe.Analysis.Decoding;

namespace DmxProbe.Analysis.Survey;

/// <summary>A sender as far as it is known: an sACN source is its CID, an Art-Net one its address and Physical.</summary>
public sealed record SenderSummary
{
    /// <summary>Index in <see cref="SenderTable"/>.</summary>
    public required int Index { get; init; }

    /// <summary>The protocol it sends.</summary>
    public required UniverseProtocol Protocol { get; init; }

    /// <summary>Name from its packets, discovery or ArtPollReply; untrusted text, empty when it never gave one.</summary>
    public required string Name { get; init; }

    /// <summary>The address it sent from first; empty for a line or serial port.</summary>
    public required string Address { get; init; }

    /// <summary>Every address seen for it, at most eight, in order of appearance.</summary>
    public required IReadOnlyList<string> Addresses { get; init; }

    /// <summary>Where its frames are measured: <c>network</c>, <c>usb</c>, <c>uart</c> or <c>edges</c>.</summary>
    public string MeasuredAt { get; init; } = "network";

    /// <summary>CID as a UUID; empty for Art-Net.</summary>
    public string Cid { get; init; } = "";

    /// <summary>Art-Net Physical; -1 for sACN.</summary>
    public int Physical { get; init; } = -1;
}
