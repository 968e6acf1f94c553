using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Locate.Ask;

namespace DmxProbe.Cli.Ask;

/// <summary>Universes that were heard and nobody sends any more: an answer to a question that rests on one says nothing.</summary>
internal static class SilentUniverses
{
    private const int Most = 4;

    /// <summary>
    /// Those that a question rests on: it needs the universes it raises slots in; one that raises none, and the rig as a whole,
    /// at least one.
    /// </summary>
    /// <param name="question">The question; null where none is open.</param>
    /// <param name="universes">All of the rig.</param>
    /// <param name="isSilent">Whether nobody sends one any more.</param>
    public static IReadOnlyList<UniverseId> Of(AskQuestion? question, IReadOnlyList<UniverseId> universes, Func<UniverseId, bool> isSilent)
    {
        UniverseId[] raised = [.. (question?.Raised ?? []).Select(slot => universes[slot.Universe]).Distinct().Where(isSilent)];
        return raised.Length > 0 ? raised : universes.All(isSilent) ? universes : [];
    }

    /// <summary>Their labels, the first four of them.</summary>
    public static string Labels(IReadOnlyList<UniverseId> universes) =>
        string.Join(", ", universes.Take(Most).Select(universe => universe.Label)) + (universes.Count > Most ? " and more" : "");
}
