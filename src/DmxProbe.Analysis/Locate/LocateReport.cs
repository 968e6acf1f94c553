namespace DmxProbe.Analysis.Locate;

/// <summary>
/// What RDM devices in the capture say about where they read: evidence beside the light. One of the places is the unit's with
/// the probability <paramref name="Trust"/>, each of them alike; else it may be anywhere.
/// </summary>
/// <param name="Text">What was reported by whom, a sentence without its full stop; names in it are escaped.</param>
/// <param name="Place">The reported place in words, where it is one; else empty.</param>
/// <param name="IsIdentified">Whether the device is known to be the unit, by its UID or its label.</param>
/// <param name="Trust">0 to 1, exclusive.</param>
/// <param name="Places">The hypotheses that agree, each once.</param>
public sealed record LocateReport(string Text, string Place, bool IsIdentified, double Trust, IReadOnlyList<Hypothesis> Places)
{
    private readonly HashSet<Hypothesis> _places = [.. Places];

    /// <summary>Whether a hypothesis is among the places.</summary>
    public bool Agrees(Hypothesis hypothesis) => _places.Contains(hypothesis);

    /// <summary>What it says for a hypothesis, nats against "anywhere".</summary>
    /// <param name="hypothesis">The hypothesis.</param>
    /// <param name="everything">How many hypotheses there are.</param>
    public double Nats(Hypothesis hypothesis, int everything) =>
        Math.Log(1 - Trust + (Agrees(hypothesis) ? Trust * everything / _places.Count : 0));
}
