using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>What came of reading notes.</summary>
/// <param name="Notes">The notes about the unit, oldest first; empty when they are refused.</param>
/// <param name="OfOthers">How many lines were about other units.</param>
/// <param name="Problem">Why they are refused; null when they are not.</param>
public sealed record NotesReading(IReadOnlyList<AskNote> Notes, int OfOthers, InputProblem? Problem)
{
    /// <summary>The first other units that lines were about, each once.</summary>
    public IReadOnlyList<string> Others { get; init; } = [];
}
