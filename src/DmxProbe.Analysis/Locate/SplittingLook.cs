using DmxProbe.Analysis.Decoding;

namespace DmxProbe.Analysis.Locate;

/// <summary>
/// A look that a person brings up at their own controller, from a dark stage: those of the candidates that light up are
/// told from those that stay dark.
/// </summary>
/// <param name="Universe">The universe.</param>
/// <param name="Unit">The unit of the sheet whose slots are raised; untrusted text.</param>
/// <param name="Raise">The slots to raise; every one is an intensity or colour slot of that unit by the sheet.</param>
/// <param name="Lit">Candidates that light up.</param>
/// <param name="Dark">Candidates that stay dark.</param>
public sealed record SplittingLook(
    UniverseId Universe,
    string Unit,
    IReadOnlyList<SlotLevel> Raise,
    IReadOnlyList<LocateCandidate> Lit,
    IReadOnlyList<LocateCandidate> Dark);
