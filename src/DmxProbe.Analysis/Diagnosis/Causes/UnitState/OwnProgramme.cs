using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Locate;

namespace DmxProbe.Analysis.Diagnosis.Causes.UnitState;

/// <summary>Cause: the light does something that nothing captured explains.</summary>
internal sealed class OwnProgramme() : Cause(
    new CauseCard("own-programme", CauseGroup.UnitState, "the unit runs by itself, or follows data that was not captured")
    {
        Needs = [CauseInputs.Levels | CauseInputs.Sheet | CauseInputs.Light],
        Test = "locate: the light changes, and no address in any mode of any captured universe explains it (docs/locating.md).",
        Fix = "Take it out of its sound, automatic or programme mode; else capture the universes that are missing.",
        Check = new NextCheck("Unplug nothing: look at its display for a sound, automatic or master mode.", 60, Ladder: true),
        Cautions = [Caution.Setting, Caution.Ladder],
        Frequency = CauseFrequency.Common,
        Missing = CauseInputs.Light,
    })
{
    /// <inheritdoc/>
    public override IEnumerable<CauseReport> Find(DiagnosisCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        return it.Located.Where(located => located.Answer.Claim == LocateClaim.NothingExplains).Select(located =>
            Report(CauseState.Likely, located.Unit, located.Answer.Sentence, [.. located.Answer.Evidence.Select(text => new CauseEvidence(text))]) with
            {
                Severity = Severity.Fault,
                Units = [located.Unit],
            });
    }

    /// <inheritdoc/>
    public override string? Exclusion(DiagnosisCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        return LocatedStories.SettlesBad(it)
            ? "The light follows captured slots."
            : null;
    }
}
