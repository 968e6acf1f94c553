namespace DmxProbe.Analysis.Diagnosis.Causes.Questions;

/// <summary>Causes that only a person can see: network. Common practice, no source.</summary>
internal static class NetworkQuestions
{
    /// <summary>The causes.</summary>
    public static IReadOnlyList<Cause> List { get; } =
    [
        new PersonCause(new CauseCard("wrong-port-direction", CauseGroup.Network, "a gateway port set as input")
        {
            Needs = [CauseInputs.Person],
            Test = "The gateway's port sends to the network.",
            Fix = "Set the port as output.",
            Check = new NextCheck("Look at the port setting of the gateway.", 60),
            Cautions = [Caution.Returning],
        }),
        new PersonCause(new CauseCard("wrong-network", CauseGroup.Network, "another IP range or mask")
        {
            Needs = [CauseInputs.Person],
            Test = "The devices do not find each other.",
            Fix = "Give all of them addresses of one range and one mask.",
            Check = new NextCheck("Compare address and mask of controller and gateway.", 60),
            Cautions = [Caution.Returning],
            Frequency = CauseFrequency.Common,
        }),
        new PersonCause(new CauseCard("wrong-interface", CauseGroup.Network, "another network interface of the controller")
        {
            Needs = [CauseInputs.Person],
            Test = "The packets leave by another interface.",
            Fix = "Choose the interface of the lighting network.",
            Check = new NextCheck("Look which interface the controller uses.", 30),
            Cautions = [Caution.Returning],
            Frequency = CauseFrequency.Common,
        }),
        new PersonCause(new CauseCard("firewall", CauseGroup.Network, "a firewall keeps packets out")
        {
            Needs = [CauseInputs.Person],
            Test = "They are in the capture, and the program on the same machine sees none.",
            Fix = "Let UDP 5568 and 6454 in.",
            Check = new NextCheck("Look at the firewall of that machine.", 60),
            Cautions = [Caution.Returning],
        }),
        new PersonCause(new CauseCard("group-not-joined", CauseGroup.Network, "the switch does not pass the group")
        {
            Needs = [CauseInputs.Person],
            Test = "The gateway gets nothing, a mirror port gets all.",
            Fix = "Set snooping and querier at the switch, or use unicast.",
            Check = new NextCheck("Set the sender to unicast to that gateway for a test.", 90),
            Cautions = [Caution.Returning],
        }),
        new PersonCause(new CauseCard("stale-second-gateway", CauseGroup.Network, "two gateways on one line, one with an old setting")
        {
            Needs = [CauseInputs.Person],
            Test = "Right in the morning only.",
            Fix = "Take the old one off.",
            Check = new NextCheck("Count the gateways that are on.", 60),
            Frequency = CauseFrequency.Rare,
            Cautions = [Caution.Silencing],
        }),
        new PersonCause(new CauseCard("port-patched-twice", CauseGroup.Network, "a gateway port patched to another universe")
        {
            Needs = [CauseInputs.Person],
            Test = "Two lines do the same.",
            Fix = "Patch the port anew.",
            Check = new NextCheck("Compare the universe of both ports.", 60),
            Cautions = [Caution.Returning],
        }),
        new PersonCause(new CauseCard("receiver-ignores-end", CauseGroup.Network, "a receiver ignores the end of a stream")
        {
            Needs = [CauseInputs.Person],
            Test = "It goes out 2.5 s after the sender was switched off, not at once.",
            Fix = "Nothing is at fault at the sender; a newer software of the receiver.",
            Check = new NextCheck("Count the seconds until it goes out.", 15),
            Frequency = CauseFrequency.Rare,
        }),
    ];
}
