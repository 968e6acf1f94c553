namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: unchanged levels are repeated too rarely.</summary>
internal sealed class KeepAliveSlow() : FindingCause(
    new CauseCard("keep-alive-slow", CauseGroup.Network, "unchanged levels are repeated too rarely")
    {
        Needs = [CauseInputs.Network],
        Test = "Median interval between repeats of unchanged levels, three or more of them, over 1.02 s (sACN; E1.31-2018 6.6.2: 800 to 1000 ms) or over 4.4 s (Art-Net 4, 1.4dn, page 72: about 4 s).",
        NotSeen = "Senders repeat unchanged levels often enough, as far as they held still.",
        Fix = "Set the sender to repeat its levels about once a second.",
        Check = new NextCheck("Look for a keep-alive or refresh setting of the sender.", 60),
    },
    "keep-alive-slow");
