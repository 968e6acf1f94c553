namespace DmxProbe.Testing.Diagnosis;

/// <summary>Which causes hide one another's effects even on two universes; fixed before the evaluation.</summary>
public static class PairRule
{
    // These act on every packet of the capture: their counts drown the other's.
    private static readonly HashSet<string> WholeNetwork = ["packet-loss", "packets-out-of-order", "repeated-packets"];

    // These judge a stream by its sequence numbers.
    private static readonly HashSet<string> BySequence = ["sequence-stuck", "sender-restarts", "shared-identity", "sequence-not-used", "packet-loss", "packets-out-of-order", "repeated-packets", "discarded-by-receivers"];

    /// <summary>Whether one hides the other.</summary>
    public static bool Hide(string one, string other) =>
        (WholeNetwork.Contains(one) && BySequence.Contains(other)) || (WholeNetwork.Contains(other) && BySequence.Contains(one))
        || (BySequence.Contains(one) && BySequence.Contains(other) && (one == "sequence-not-used" || other == "sequence-not-used"));
}
