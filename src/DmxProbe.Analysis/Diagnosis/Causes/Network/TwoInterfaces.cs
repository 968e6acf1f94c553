namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: one machine on the network twice.</summary>
internal sealed class TwoInterfaces() : FindingCause(
    new CauseCard("two-interfaces-one-network", CauseGroup.Network, "one machine on the network twice")
    {
        Needs = [CauseInputs.Network],
        Test = "One machine sends the same through two of its interfaces into one network (common practice, no source).",
        NotSeen = "No machine is on the network twice.",
        Explains = ["repeated-packets"],
        Fix = "Switch one of the interfaces off (often the radio), or choose one in the sender's settings.",
        Check = new NextCheck("Look at the interfaces of that machine.", 30),
        Cautions = [Caution.Unplugging],
    },
    "two-interfaces-one-network");
