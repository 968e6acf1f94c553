namespace DmxProbe.Analysis.Diagnosis.Causes.Rdm;

/// <summary>Cause: two RDM devices with one identity.</summary>
internal sealed class IdentityTwice() : FindingCause(
    new CauseCard("rdm-identity-twice", CauseGroup.Network, "two RDM devices with one identity")
    {
        Needs = [CauseInputs.Rdm],
        Test = "Several devices answer where one UID is asked for, or one UID is named on several universes (E1.20, by secondary sources).",
        NotSeen = "No RDM identity is there twice.",
        Fix = "Take one of the two off the line; the identity is set by the maker, so one of them needs service.",
        Check = new NextCheck("Ask for that device at the RDM controller with the other one unplugged.", 120, Ladder: true),
        Frequency = CauseFrequency.Rare,
        Cautions = [Caution.Unplugging, Caution.Ladder],
    },
    "rdm-uid-twice",
    "rdm-uid-on-several-universes");
