using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Survey;

/// <summary>A device that answered ArtPoll (or replied unasked).</summary>
public sealed record NodeSummary
{
    /// <summary>The address its replies came from.</summary>
    public required string Address { get; init; }

    /// <summary>PortName of its first reply (short name); untrusted text.</summary>
    public required string PortName { get; init; }

    /// <summary>LongName of its first reply; untrusted text.</summary>
    public required string LongName { get; init; }

    /// <summary>Replies seen.</summary>
    public required long Replies { get; init; }

    /// <summary>Replies that came more than 1.5 s after the last ArtPoll (a device answers within 1 s; Art-Net 4, 1.4dn), or before any.</summary>
    public long Unasked { get; init; }

    /// <summary>Octets of its replies, smallest (239 in the current text, at least 207).</summary>
    public required int ShortestReply { get; init; }

    /// <summary>UDP port its replies state; 6454 when right, 13849 when its octets are swapped.</summary>
    public required int StatedPort { get; init; }

    /// <summary>Port-Addresses of its DMX512 outputs, ascending, at most 64.</summary>
    public IReadOnlyList<int> Outputs { get; init; } = [];

    /// <summary>Port-Addresses of its inputs, ascending, at most 64.</summary>
    public IReadOnlyList<int> InputsListed { get; init; } = [];

    /// <summary>Time of its first reply.</summary>
    public Timestamp First { get; init; }

    /// <summary>Time of its last reply.</summary>
    public Timestamp Last { get; init; }

    /// <summary>ArtPoll packets, of anybody, since its last reply.</summary>
    public long PollsSince { get; init; }

    /// <summary>Time of the last ArtPoll of anybody.</summary>
    public Timestamp LastPoll { get; init; }

    /// <summary>MAC addresses of two devices that both reply from its address; empty when there is one.</summary>
    public IReadOnlyList<string> SharedBy { get; init; } = [];

    /// <summary>When the second of them was seen.</summary>
    public Timestamp SharedFrom { get; init; }

    /// <summary>True when an output is fed from sACN (GoodOutputA bit 0).</summary>
    public bool OutputsSacn { get; init; }

    /// <summary>True when it has more outputs than are listed.</summary>
    public bool PortsLeftOut { get; init; }

    /// <summary>True when an output reports that it merges two senders (GoodOutputA bit 3).</summary>
    public bool Merging { get; init; }
}
