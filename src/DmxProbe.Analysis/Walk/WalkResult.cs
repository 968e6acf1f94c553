namespace DmxProbe.Analysis.Walk;

/// <summary>What was moved.</summary>
/// <param name="Targets">The units.</param>
/// <param name="Functions">Every function of every unit, in the order of the units.</param>
/// <param name="Moves">Moves alone or in a group, oldest first, and moves of slots that belong to no unit.</param>
/// <param name="MovesNotListed">Moves beyond those kept.</param>
/// <param name="MovesInCues">Moves within cues; they are counted, not listed.</param>
public sealed record WalkResult(
    IReadOnlyList<WalkTarget> Targets, IReadOnlyList<WalkFunction> Functions, IReadOnlyList<WalkMove> Moves, long MovesNotListed, long MovesInCues);
