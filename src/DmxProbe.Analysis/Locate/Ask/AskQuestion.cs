using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>One question: what the person brings up, and what would follow.</summary>
/// <param name="Raised">Every slot that stands above its held level; all other intensities and colours are at 0.</param>
/// <param name="Levels">The 512 levels of each universe while it is asked.</param>
/// <param name="Bits">What the answer is expected to tell.</param>
/// <param name="Seconds">What it costs the person.</param>
public sealed record AskQuestion(IReadOnlyList<RaisedSlot> Raised, IReadOnlyList<byte[]> Levels, double Bits, double Seconds)
{
    /// <summary>Index of the place that this look confirms; null for a question.</summary>
    public int? Confirms { get; init; }

    /// <summary>Slots that no question raises and that must stay as they stood: else a likely place is lit where it is reckoned dark, or the other way round.</summary>
    public IReadOnlyList<RaisedSlot> Stay { get; init; } = [];

    /// <summary>Whether the same look was answered for before: the eye may have erred.</summary>
    public bool IsAgain { get; init; }

    /// <summary>For a page of faders: what is to be changed against the question before, in steps; else empty.</summary>
    public IReadOnlyList<FaderStep> Steps { get; init; } = [];

    /// <summary>For a look that exists: when it stood in the capture.</summary>
    public Timestamp? Look { get; init; }
}
