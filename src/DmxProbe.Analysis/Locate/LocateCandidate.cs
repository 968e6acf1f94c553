using DmxProbe.Analysis.Decoding;

namespace DmxProbe.Analysis.Locate;

/// <summary>A hypothesis with its standing.</summary>
/// <param name="Hypothesis">The indices.</param>
/// <param name="Universe">The universe.</param>
/// <param name="Sender">Index of the sender in the sender table, or -1.</param>
/// <param name="Mode">Name of the mode; untrusted text.</param>
/// <param name="Score">Posterior probability, 0 to 0.995: the light model itself can be wrong.</param>
/// <param name="LogLikelihood">Log-likelihood against "no own light", in nats, before the prior.</param>
/// <param name="Error">The human error that leads there, or empty.</param>
public sealed record LocateCandidate(
    Hypothesis Hypothesis,
    UniverseId Universe,
    int Sender,
    string Mode,
    double Score,
    double LogLikelihood,
    string Error)
{
    /// <summary>Further errors that lead to the same place, likeliest first.</summary>
    public IReadOnlyList<string> OtherErrors { get; init; } = [];
}
