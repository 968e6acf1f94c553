using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Locate.Ask;

namespace DmxProbe.Cli.Ask;

/// <summary>Tells what is really sent while questions are asked, so that an answer is weighed with that.</summary>
internal interface IAskWire
{
    /// <summary>Begins to listen; what came before is over and answered for.</summary>
    /// <exception cref="Protocols.Records.InputException">An input cannot be opened.</exception>
    void Start();

    /// <summary>The levels now.</summary>
    /// <param name="universes">Of which universes.</param>
    /// <param name="otherwise">What to take for universes that are not heard.</param>
    /// <returns>512 of each; null where none of them is heard.</returns>
    IReadOnlyList<byte[]>? Levels(IReadOnlyList<UniverseId> universes, IReadOnlyList<byte[]> otherwise);

    /// <summary>How many senders decide a universe now; 0 where none is heard.</summary>
    int Deciding(UniverseId universe);

    /// <summary>Whether a universe was heard since <see cref="Start"/> and nobody sends it any more.</summary>
    bool FellSilent(UniverseId universe);

    /// <summary>The levels of universes, as <see cref="Levels"/> gives them, of what was heard last.</summary>
    static IReadOnlyList<byte[]>? Of(LatestLevels latest, IReadOnlyList<UniverseId> universes, IReadOnlyList<byte[]> otherwise)
    {
        byte[]?[] heard = [.. universes.Select(latest.Of)];
        return heard.All(levels => levels is null) ? null : [.. heard.Select((levels, u) => levels ?? otherwise[u])];
    }
}
