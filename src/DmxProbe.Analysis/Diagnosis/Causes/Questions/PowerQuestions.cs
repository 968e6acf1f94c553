namespace DmxProbe.Analysis.Diagnosis.Causes.Questions;

/// <summary>Causes that only a person can see: power. Common practice, no source.</summary>
internal static class PowerQuestions
{
    /// <summary>The causes.</summary>
    public static IReadOnlyList<Cause> List { get; } =
    [
        new PersonCause(new CauseCard("no-mains", CauseGroup.Power, "no power: fuse, breaker, link cable")
        {
            Needs = [CauseInputs.Person],
            Test = "Its display is dark.",
            Fix = "Bring the power back; mains is for licensed people.",
            Check = new NextCheck("Look at its display, and at the breaker of its circuit.", 20),
            Frequency = CauseFrequency.Common,
            Cautions = [Caution.Mains],
        }),
        new PersonCause(new CauseCard("voltage-dip", CauseGroup.Power, "voltage dips reset units")
        {
            Needs = [CauseInputs.Person],
            Test = "Several start anew together when the load rises.",
            Fix = "Spread the load; mains is for licensed people.",
            Check = new NextCheck("Ask whether it comes with full light.", 15),
            Cautions = [Caution.Mains],
        }),
        new PersonCause(new CauseCard("dimmed-supply", CauseGroup.Power, "fed from a dimmed circuit")
        {
            Needs = [CauseInputs.Person],
            Test = "It flickers or dies when a dimmer goes down.",
            Fix = "Give it hard power.",
            Check = new NextCheck("Look which outlet feeds it.", 60, Ladder: true),
            Cautions = [Caution.Mains, Caution.Ladder],
        }),
        new PersonCause(new CauseCard("bad-neutral", CauseGroup.Power, "generator or neutral at fault")
        {
            Needs = [CauseInputs.Person],
            Test = "Everything is odd.",
            Fix = "Call a licensed electrician.",
            Check = new NextCheck("Ask what feeds the rig.", 30),
            Frequency = CauseFrequency.Rare,
            Cautions = [Caution.Mains],
        }),
        new PersonCause(new CauseCard("hot-or-wet", CauseGroup.Power, "a hot connector, water, a burnt smell")
        {
            Needs = [CauseInputs.Person],
            Test = "Something is hot, wet or smells burnt.",
            Fix = "Stop, switch off at the supply and keep people away; mains is for licensed people, and local codes prevail.",
            Check = new NextCheck("Look and smell; touch nothing.", 15),
            Frequency = CauseFrequency.Rare,
            Cautions = [Caution.Mains],
        }),
    ];
}
