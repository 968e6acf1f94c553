using DmxProbe.Analysis.Explain;
using DmxProbe.Analysis.Findings;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Tui;

/// <summary>One unit at one moment.</summary>
/// <param name="Name">The unit, as the sheet names it; untrusted text.</param>
/// <param name="Explanation">What it should be doing; null when it has no chart.</param>
/// <param name="History">For each sender of the explanation, for each slot, the level of each of the last seconds, the latest last; -1: not sent.</param>
/// <param name="Findings">The findings that touch its universe.</param>
internal sealed record UnitPicture(string Name, Explanation? Explanation, IReadOnlyList<IReadOnlyList<IReadOnlyList<int>>> History, IReadOnlyList<Finding> Findings)
{
    /// <summary>In a recording, when its universe is first heard, where that is later than the moment; else null.</summary>
    public Timestamp? HeardFrom { get; init; }
}
