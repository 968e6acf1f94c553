namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: multicast without a querier.</summary>
internal sealed class NoQuerier() : FindingCause(
    new CauseCard("no-querier", CauseGroup.Network, "multicast without a querier")
    {
        Needs = [CauseInputs.Network],
        Test = "Multicast is joined and nobody asks for members, the one who asked fell silent, or a universe stops 250 to 260 s after the last join (260 s by RFC 3376 8.4, 255 s in some switches; secondary sources).",
        Fix = "Switch a querier on in one switch of this network, or switch snooping off everywhere.",
        Check = new NextCheck("Hold the time until it stops against 250 to 260 s.", 300),
        Cautions = [Caution.Returning],
        Frequency = CauseFrequency.Common,
        Missing = CauseInputs.Person,
    },
    "no-querier",
    "querier-silent",
    "multicast-aged-out");
