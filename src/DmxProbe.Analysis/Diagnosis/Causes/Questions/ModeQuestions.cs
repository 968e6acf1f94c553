namespace DmxProbe.Analysis.Diagnosis.Causes.Questions;

/// <summary>Causes that only a person can see: mode. Common practice, no source.</summary>
internal static class ModeQuestions
{
    /// <summary>The causes.</summary>
    public static IReadOnlyList<Cause> List { get; } =
    [
        new PersonCause(new CauseCard("other-revision", CauseGroup.Mode, "same name, other revision with another chart")
        {
            Needs = [CauseInputs.Person],
            Test = "Equal units by name behave differently; their firmware or revision differs.",
            Fix = "Patch each by its own chart.",
            Check = new NextCheck("Read firmware and revision off one that works and one that does not.", 90, Ladder: true),
            Cautions = [Caution.Ladder],
        }),
        new PersonCause(new CauseCard("profile-misread", CauseGroup.Mode, "the controller's profile is not the unit's chart")
        {
            Needs = [CauseInputs.Person],
            Test = "Functions fit the chart from one row on, or shifted by one.",
            Fix = "Correct the profile at the controller.",
            Check = new NextCheck("Hold the profile at the controller against the unit's chart, row by row.", 120),
        }),
        new PersonCause(new CauseCard("inverted-in-profile", CauseGroup.Mode, "a function runs backwards")
        {
            Needs = [CauseInputs.Person],
            Test = "Full is dark, or it moves the other way.",
            Fix = "Invert once, in one place only.",
            Check = new NextCheck("Move that function over its whole range.", 20),
            Cautions = [Caution.Raising],
        }),
        new PersonCause(new CauseCard("pan-and-tilt-swapped", CauseGroup.Mode, "pan and tilt swapped")
        {
            Needs = [CauseInputs.Person],
            Test = "It tilts when told to pan.",
            Fix = "Swap the setting in the unit or at the controller.",
            Check = new NextCheck("Move pan alone.", 15),
            Cautions = [Caution.Raising, Caution.Setting],
        }),
        new PersonCause(new CauseCard("other-dimmer-curve", CauseGroup.Mode, "another dimmer curve in one unit")
        {
            Needs = [CauseInputs.Person],
            Test = "Equal units at equal levels differ halfway and agree at full.",
            Fix = "Set the same curve in all of them.",
            Check = new NextCheck("Set all of them to half, then to full.", 30),
            Frequency = CauseFrequency.Common,
            Cautions = [Caution.Setting],
        }),
        new PersonCause(new CauseCard("led-smoothing", CauseGroup.Mode, "the unit smooths its levels")
        {
            Needs = [CauseInputs.Person],
            Test = "It fades where it is told to snap.",
            Fix = "Choose its fast response.",
            Check = new NextCheck("Snap one level and look whether it fades.", 15),
            Cautions = [Caution.Setting],
        }),
    ];
}
