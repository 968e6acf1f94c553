using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;

namespace DmxProbe.Analysis.Compare.Links;

/// <summary>What may be at the near end: a sender, or the senders of a universe merged as the standard has it.</summary>
/// <param name="Universe">The universe.</param>
/// <param name="Sender">The sender; null for the merge.</param>
/// <param name="Streams">Its streams.</param>
/// <param name="Slots">Slots compared; before that is known, its usual slots.</param>
internal sealed record LinkSide(UniverseId Universe, SenderSummary? Sender, TapStream[] Streams, int Slots)
{
    /// <summary>Its usual number of slots.</summary>
    public int Usual { get; } = Slots;

    /// <summary>What it carried; set where it was chosen.</summary>
    public IReadOnlyList<OutputChange> Changes { get; init; } = [];

    /// <summary>What it carried, each change.</summary>
    /// <param name="tap">The tap.</param>
    /// <param name="slots">Slots compared.</param>
    public IReadOnlyList<OutputChange> Contents(TapRecording tap, int slots) => Sender is null
        ? MergeSimulator.Run(tap, Streams, MergeRule.PriorityHighestValue, slots)
        : new LineFrames(tap, Streams[0], slots).Changes;
}
