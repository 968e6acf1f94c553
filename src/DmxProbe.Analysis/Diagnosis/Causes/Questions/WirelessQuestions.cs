namespace DmxProbe.Analysis.Diagnosis.Causes.Questions;

/// <summary>Causes that only a person can see: wireless. Common practice, no source.</summary>
internal static class WirelessQuestions
{
    /// <summary>The causes.</summary>
    public static IReadOnlyList<Cause> List { get; } =
    [
        new PersonCause(new CauseCard("radio-wrong-group", CauseGroup.Wireless, "radio receiver linked to another transmitter")
        {
            Needs = [CauseInputs.Person],
            Test = "It follows another stage.",
            Fix = "Unlink and link again.",
            Check = new NextCheck("Compare the group of transmitter and receiver.", 60, Ladder: true),
            Frequency = CauseFrequency.Common,
            Cautions = [Caution.Ladder],
        }),
        new PersonCause(new CauseCard("radio-two-transmitters", CauseGroup.Wireless, "two transmitters in one group")
        {
            Needs = [CauseInputs.Person],
            Test = "It flickers between two looks, at one receiver only.",
            Fix = "Give each its own group.",
            Check = new NextCheck("Count the transmitters that are on.", 60),
            Cautions = [Caution.Silencing],
        }),
        new PersonCause(new CauseCard("radio-freezes", CauseGroup.Wireless, "the radio link freezes")
        {
            Needs = [CauseInputs.Person],
            Test = "It stops for a moment, more often when the house fills.",
            Fix = "Change channel; move antennas up and into sight.",
            Check = new NextCheck("Ask whether it is worse with people in.", 15),
            Cautions = [Caution.Returning],
            Frequency = CauseFrequency.Common,
        }),
        new PersonCause(new CauseCard("radio-battery", CauseGroup.Wireless, "radio receiver out of range or battery low")
        {
            Needs = [CauseInputs.Person],
            Test = "One unit only, worse over time.",
            Fix = "Charge it, move it nearer.",
            Check = new NextCheck("Look at its battery and its link light.", 30, Ladder: true),
            Frequency = CauseFrequency.Common,
            Cautions = [Caution.Ladder],
        }),
        new PersonCause(new CauseCard("wire-and-radio", CauseGroup.Wireless, "wire and radio both active")
        {
            Needs = [CauseInputs.Person],
            Test = "It flickers while the cable is in.",
            Fix = "Choose one.",
            Check = new NextCheck("Unplug one of them at the unit.", 60, Ladder: true),
            Cautions = [Caution.Unplugging, Caution.Ladder],
        }),
        new PersonCause(new CauseCard("transmitter-without-input", CauseGroup.Wireless, "the transmitter has no input")
        {
            Needs = [CauseInputs.Person],
            Test = "Its receivers hold the last look.",
            Fix = "Mend its input.",
            Check = new NextCheck("Look at the signal light of the transmitter.", 20),
            Cautions = [Caution.Returning],
        }),
    ];
}
