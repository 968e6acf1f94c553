using DmxProbe.Analysis.Locate;

namespace DmxProbe.Analysis.Diagnosis;

/// <summary>An error of a person that leads to a place where a unit may be reading.</summary>
/// <param name="Place">The place.</param>
/// <param name="Error">The error in words; empty where no known error leads there.</param>
/// <param name="Lean">How far it stands behind the likeliest place and error, 0 or below; a log of odds.</param>
/// <param name="State">Possible, unless it is the first story of a claim.</param>
/// <param name="IsSure">Whether the light rules the sheet's own place out.</param>
public sealed record LocatedStory(LocateCandidate Place, string Error, double Lean, CauseState State, bool IsSure);
