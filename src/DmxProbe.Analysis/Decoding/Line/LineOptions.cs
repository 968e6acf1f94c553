using DmxProbe.Protocols.Serial;

namespace DmxProbe.Analysis.Decoding.Line;

/// <summary>What a person says about a line recording; the rest is found.</summary>
public sealed record LineOptions
{
    /// <summary>Nothing said: every channel that decodes, polarity as found.</summary>
    public static LineOptions Found { get; } = new();

    /// <summary>Names of the channels to decode; none: those that decode.</summary>
    public IReadOnlyList<string> Channels { get; init; } = [];

    /// <summary>Which level is mark; null: as found.</summary>
    public LinePolarity? Polarity { get; init; }

    /// <summary>Whether a person gave the sampling rate: if it is wrong, so is every figure.</summary>
    public bool IsRateTold { get; init; }

    /// <summary>Whether a channel is to be decoded.</summary>
    /// <param name="name">Its name as the recording gives it.</param>
    public bool Wants(string name) => Channels.Count == 0 || Channels.Contains(name, StringComparer.OrdinalIgnoreCase);

    /// <summary>Which messages of framed serial interfaces carry DMX, and how.</summary>
    public FramedOptions Framed { get; init; } = FramedOptions.Usual;
}
