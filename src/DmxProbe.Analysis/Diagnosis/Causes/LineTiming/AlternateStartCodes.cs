namespace DmxProbe.Analysis.Diagnosis.Causes.LineTiming;

/// <summary>Cause: frames that are not levels.</summary>
internal sealed class AlternateStartCodes() : FindingCause(
    new CauseCard("alternate-start-code", CauseGroup.LineTiming, "frames that are not levels")
    {
        Needs = [CauseInputs.Network, CauseInputs.Line, CauseInputs.Serial],
        Test = "Frames with a START code other than 0 and DDh. A unit that takes them as levels flashes.",
        NotSeen = "Every frame has START code 0.",
        Fix = "Switch off what sends them where a unit takes them for levels (RDM, text, system information).",
        Check = new NextCheck("See whether the flashes come as often as these frames.", 30),
        Frequency = CauseFrequency.Common,
    },
    "alternate-start-code",
    "experimental-start-code",
    "reserved-start-code");
