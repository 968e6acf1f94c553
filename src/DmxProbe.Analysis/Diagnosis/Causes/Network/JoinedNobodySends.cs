namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: a universe is joined and nobody sends it.</summary>
internal sealed class JoinedNobodySends() : FindingCause(
    new CauseCard("joined-nobody-sends", CauseGroup.Network, "a universe is joined and nobody sends it")
    {
        Needs = [CauseInputs.Network],
        Test = "A receiver joined the group of a universe that is not in the capture (E1.31-2018 9.3).",
        Fix = "Look whether the sender has this universe switched on, or whether a switch holds it back.",
        Check = new NextCheck("See whether the controller shows this universe as output.", 20),
        Cautions = [Caution.Returning],
        Missing = CauseInputs.Person,
    },
    "joined-nobody-sends");
