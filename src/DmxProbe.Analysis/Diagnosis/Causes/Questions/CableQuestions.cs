namespace DmxProbe.Analysis.Diagnosis.Causes.Questions;

/// <summary>Causes that only a person can see: cable. Common practice, no source.</summary>
internal static class CableQuestions
{
    /// <summary>The causes.</summary>
    public static IReadOnlyList<Cause> List { get; } =
    [
        new PersonCause(new CauseCard("no-terminator", CauseGroup.Cable, "no terminator at the far end")
        {
            Needs = [CauseInputs.Person],
            Test = "The last ones twitch, and worse with a longer cable.",
            Fix = "Put a terminator (120 ohm) into the last unit.",
            Check = new NextCheck("Look for a terminator in the last unit of the chain.", 60, Ladder: true),
            Frequency = CauseFrequency.Common,
            Cautions = [Caution.Unplugging, Caution.Ladder],
        }),
        new PersonCause(new CauseCard("terminator-in-the-middle", CauseGroup.Cable, "two terminators, or one in the middle")
        {
            Needs = [CauseInputs.Person],
            Test = "Half of the rig is weak or erratic.",
            Fix = "Leave one, at the far end.",
            Check = new NextCheck("Look for terminators along the chain.", 180, Ladder: true),
            Cautions = [Caution.Unplugging, Caution.Ladder],
        }),
        new PersonCause(new CauseCard("y-split", CauseGroup.Cable, "a Y split or star")
        {
            Needs = [CauseInputs.Person],
            Test = "Errors only while the branch is plugged in.",
            Fix = "Use an active splitter.",
            Check = new NextCheck("Unplug the branch.", 60, Ladder: true),
            Frequency = CauseFrequency.Common,
            Cautions = [Caution.Unplugging, Caution.Ladder],
        }),
        new PersonCause(new CauseCard("screen-open", CauseGroup.Cable, "screen or common open")
        {
            Needs = [CauseInputs.Person],
            Test = "Random trouble near dimmers or radios.",
            Fix = "Mend the cable.",
            Check = new NextCheck("Change the cable.", 180, Ladder: true),
            Cautions = [Caution.Unplugging, Caution.Ladder],
        }),
        new PersonCause(new CauseCard("microphone-cable", CauseGroup.Cable, "microphone cable")
        {
            Needs = [CauseInputs.Person],
            Test = "Good in the shop, bad over the long run.",
            Fix = "Use data cable.",
            Check = new NextCheck("Read what is printed on the cable.", 30),
            Cautions = [Caution.Unplugging],
        }),
        new PersonCause(new CauseCard("broken-chain", CauseGroup.Cable, "a dead or unpowered unit breaks the chain")
        {
            Needs = [CauseInputs.Person],
            Test = "Everything behind one unit is dead.",
            Fix = "Go round it.",
            Check = new NextCheck("Look at the signal light of the first unit that is dead, and of the one before.", 60, Ladder: true),
            Frequency = CauseFrequency.Common,
            Cautions = [Caution.Unplugging, Caution.Ladder],
        }),
        new PersonCause(new CauseCard("receiver-loads-line", CauseGroup.Cable, "a bad receiver loads the line")
        {
            Needs = [CauseInputs.Person],
            Test = "All are dead while that one is plugged in.",
            Fix = "Take it off the line.",
            Check = new NextCheck("Unplug the line in the middle: which half comes back?", 120, Ladder: true),
            Cautions = [Caution.Unplugging, Caution.Ladder],
        }),
        new PersonCause(new CauseCard("line-too-long", CauseGroup.Cable, "line too long")
        {
            Needs = [CauseInputs.Person],
            Test = "The far end flickers; over 300 m (common practice; 500 m at most is advised).",
            Fix = "Put in a repeater.",
            Check = new NextCheck("Add up the lengths of cable.", 60),
            Cautions = [Caution.Unplugging],
            Frequency = CauseFrequency.Rare,
        }),
        new PersonCause(new CauseCard("ground-loop", CauseGroup.Cable, "ground loop, or common tied to the case")
        {
            Needs = [CauseInputs.Person],
            Test = "Hum, random errors at mains rate, dead receivers.",
            Fix = "Isolate.",
            Check = new NextCheck("Ask whether it began when another supply was connected.", 60),
            Cautions = [Caution.Mains],
        }),
        new PersonCause(new CauseCard("splitter-port-bad", CauseGroup.Cable, "a port of a splitter is bad")
        {
            Needs = [CauseInputs.Person],
            Test = "That branch only.",
            Fix = "Use another port.",
            Check = new NextCheck("Take the branch to another port.", 60),
            Cautions = [Caution.Unplugging],
        }),
        new PersonCause(new CauseCard("electrical-interference", CauseGroup.Cable, "interference from motors or radio")
        {
            Needs = [CauseInputs.Person],
            Test = "Errors while a hoist or a radio runs.",
            Fix = "Part the cables.",
            Check = new NextCheck("Ask what was switched on when it happened.", 20),
        }),
        new PersonCause(new CauseCard("intermittent-connector", CauseGroup.Cable, "a connector that comes and goes")
        {
            Needs = [CauseInputs.Person],
            Test = "It changes when the plug is touched.",
            Fix = "Change it.",
            Check = new NextCheck("Move the plugs along the chain gently while somebody watches.", 120, Ladder: true),
            Frequency = CauseFrequency.Common,
            Cautions = [Caution.Unplugging, Caution.Ladder],
        }),
        new PersonCause(new CauseCard("adapter-wrong", CauseGroup.Cable, "a 3 to 5 pin adapter wired wrongly")
        {
            Needs = [CauseInputs.Person],
            Test = "The branch is dead or mad behind the adapter.",
            Fix = "Change the adapter.",
            Check = new NextCheck("Try another adapter.", 60, Ladder: true),
            Cautions = [Caution.Unplugging, Caution.Ladder],
        }),
        new PersonCause(new CauseCard("receiver-burnt", CauseGroup.Cable, "a burnt receiver")
        {
            Needs = [CauseInputs.Person],
            Test = "It reads rubbish whatever is sent.",
            Fix = "Have it mended; look for power on the data pins.",
            Check = new NextCheck("Try the unit on a line that is known to be good.", 180, Ladder: true),
            Frequency = CauseFrequency.Rare,
            Cautions = [Caution.Setting, Caution.Ladder],
        }),
    ];
}
