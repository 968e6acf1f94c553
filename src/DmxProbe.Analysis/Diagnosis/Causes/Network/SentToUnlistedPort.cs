namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: sent to a device that has no such output.</summary>
internal sealed class SentToUnlistedPort() : FindingCause(
    new CauseCard("sent-to-unlisted-port", CauseGroup.Network, "sent to a device that has no such output")
    {
        Needs = [CauseInputs.Network],
        Test = "Art-Net is unicast to a device for a Port-Address that none of its outputs lists (Art-Net 4, 1.4dn, page 74).",
        NotSeen = "Every device lists the outputs it is sent to.",
        Explains = ["no-device-outputs", "output-without-sender"],
        Fix = "Set the output and the sender to the same Port-Address; mind whether they count from 0 or from 1.",
        Check = new NextCheck("Compare the universe of the port at the gateway with that at the controller.", 30),
        Cautions = [Caution.Returning],
        Frequency = CauseFrequency.Common,
    },
    "sent-to-unlisted-port");
