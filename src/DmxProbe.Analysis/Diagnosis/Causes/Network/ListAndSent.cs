namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: a source sends other universes than it says.</summary>
internal sealed class ListAndSent() : FindingCause(
    new CauseCard("universe-list-differs", CauseGroup.Network, "a source sends other universes than it says")
    {
        Needs = [CauseInputs.Network],
        Test = "The universe list of a source and what it sends differ (E1.31-2018 4.3 and 12).",
        NotSeen = "Sources send what they list.",
        Fix = "Start the source's output anew; receivers that go by the list miss the universe.",
        Check = new NextCheck("Look at the universe list of a receiver.", 60),
        Cautions = [Caution.Returning],
        Frequency = CauseFrequency.Rare,
    },
    "discovery-missing-universe",
    "discovery-still-lists",
    "discovery-not-seen",
    "discovery-absent");
