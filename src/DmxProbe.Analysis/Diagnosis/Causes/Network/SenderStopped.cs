using DmxProbe.Analysis.Findings;

namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: a sender stopped.</summary>
internal sealed class SenderStopped() : FindingCause(
    new CauseCard("sender-stopped", CauseGroup.Network, "a sender stopped")
    {
        Needs = [CauseInputs.Network, CauseInputs.Line, CauseInputs.Serial],
        Test = "A sender sends no more, without ending its stream, for longer than receivers keep it (sACN 2.5 s, E1.31-2018 6.7.1; Art-Net merge 10 s, 1.4dn pages 76 and 77; line 1.25 s, E1.11 by secondary sources).",
        NotSeen = "Every sender was still sending at the end.",
        Fix = "Ask whether it was switched off; if not, look at its power, cable and network.",
        Check = new NextCheck("Look whether the sender still runs.", 20),
        Cautions = [Caution.Returning],
        Frequency = CauseFrequency.Common,
    },
    "sender-stopped")
{
    private const double InputEnd = 2;

    /// <inheritdoc/>
    protected override bool Applies(Finding finding, DiagnosisCase it) =>
        // Where one input of several ends before the others, its senders did not stop.
        !it.Survey.Inputs.Any(input => input.Last is { } last && last != it.Survey.Last && last >= finding.From && (last - finding.From).TotalSeconds < InputEnd);
}
