namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: sACN packets that break a rule of form.</summary>
internal sealed class SacnForm() : FindingCause(
    new CauseCard("sacn-form", CauseGroup.Network, "sACN packets that break a rule of form")
    {
        Needs = [CauseInputs.Network],
        Test = "sACN packets broadcast, at another port, in a group misread, or with reserved options or lists (E1.31-2018).",
        NotSeen = "No sACN packet breaks a rule of form.",
        Fix = "The sender's software is at fault; strict receivers may refuse it.",
        Check = new NextCheck("Try another receiver.", 120),
        Cautions = [Caution.Unplugging],
        Frequency = CauseFrequency.Rare,
    },
    "sacn-broadcast",
    "sacn-wrong-port",
    "sacn-misread-ipv6-group",
    "sacn-reserved-options",
    "sacn-list-not-sorted",
    "sacn-list-page",
    "sacn-list-reserved-universe",
    "sacn-reserved-octets",
    "sacn-name-not-utf8",
    "sacn-name-unterminated",
    "sacn-flags-and-length",
    "sacn-unknown-vector",
    "repeats-before-keep-alive",
    "keep-alive-fast",
    "discovery-rate");
