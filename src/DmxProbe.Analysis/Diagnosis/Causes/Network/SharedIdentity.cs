namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: two machines send as one source.</summary>
internal sealed class SharedIdentity() : FindingCause(
    new CauseCard("shared-identity", CauseGroup.Network, "two machines send as one source")
    {
        Needs = [CauseInputs.Network],
        Test = "One CID comes from two addresses of one IP version (E1.31-2018: a source is its CID).",
        NotSeen = "Every CID comes from one address.",
        Explains = ["packet-loss", "packets-out-of-order", "sender-restarts", "repeated-packets"],
        Fix = "Give each program an identity of its own, or switch one off.",
        Check = new NextCheck("See which of the addresses should send.", 30),
        Frequency = CauseFrequency.Rare,
        Cautions = [Caution.Silencing],
    },
    "one-cid-several-addresses");
