namespace DmxProbe.Analysis.Diagnosis.Causes.Cable;

/// <summary>Cause: characters arrive damaged.</summary>
internal sealed class FramingErrors() : FindingCause(
    new CauseCard("framing-errors", CauseGroup.Cable, "characters arrive damaged")
    {
        Needs = [CauseInputs.Line, CauseInputs.Serial],
        Test = "Characters without a stop bit: over 1 in 10,000 is a fault, any is worth a look (common practice, no source); or over 1 % of packets with pulses too short for a bit.",
        NotSeen = "No character arrived damaged where this was recorded.",
        Fix = "Record at the start and at the end of the line: errors at the end alone are the cable's or the terminator's.",
        Check = new NextCheck("Put a terminator at the far end, or try another cable for the last piece.", 180, Ladder: true),
        Frequency = CauseFrequency.Common,
        Cautions = [Caution.Unplugging],
    },
    "framing-errors",
    "line-disturbed");
