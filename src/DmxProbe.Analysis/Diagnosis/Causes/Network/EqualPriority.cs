namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: two senders at the same priority.</summary>
internal sealed class EqualPriority() : FindingCause(
    new CauseCard("equal-priority", CauseGroup.Network, "two senders at the same priority")
    {
        Needs = [CauseInputs.Network],
        Test = "Two or more sACN senders share the highest priority of a universe for more than 3 s (E1.31-2018 6.2.3: what receivers do then is their own choice; 3 s is what a restarted source leaves behind).",
        NotSeen = "No sACN universe has two senders at its highest priority.",
        Fix = "Switch off the sender that should not be there, or give it a lower priority.",
        Check = new NextCheck("Ask who else sends this universe tonight: a spare controller, a laptop, a test.", 20),
        Frequency = CauseFrequency.Common,
        Cautions = [Caution.Silencing],
    },
    "senders-at-equal-priority");
