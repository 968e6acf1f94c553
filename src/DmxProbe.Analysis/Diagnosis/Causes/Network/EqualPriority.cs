namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Two sACN senders share the highest priority of a universe for more than a hand-over.</summary>
public sealed class EqualPriority() : FindingCause(
    new CauseCard("equal-priority", CauseGroup.Network, "two senders at the same priority")
    {
        Needs = [CauseInputs.Network],
        Test = "Two or more senders share the highest priority of a universe for more than 3 s (E1.31-2018 6.2.3: what receivers do then is their own choice).",
        Fix = "Switch off the sender that should not be there, or give it a lower priority.",
        Check = new NextCheck("Ask who else sends this universe tonight: a spare controller, a laptop, a test.", 20),
        Frequency = CauseFrequency.Common,
        Cautions = [Caution.Silencing],
    },
    "senders-at-equal-priority")
{
    /// <inheritdoc/>
    public override string Exclusion(DiagnosisCase it) => "No universe has two senders at its highest priority.";
}
