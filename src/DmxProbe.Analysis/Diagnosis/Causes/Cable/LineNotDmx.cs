namespace DmxProbe.Analysis.Diagnosis.Causes.Cable;

/// <summary>Cause: what is on the line cannot be read as DMX512.</summary>
internal sealed class LineNotDmx() : FindingCause(
    new CauseCard("line-not-dmx", CauseGroup.Cable, "what is on the line cannot be read as DMX512")
    {
        Needs = [CauseInputs.Line],
        Test = "No channel decodes as DMX512, or most START codes have no stop bit, or no bit lasts as long as it should.",
        NotSeen = "The line decodes as DMX512.",
        Explains = ["framing-errors"],
        Fix = "Check the sampling rate (4 MHz or more), threshold and ground; then what drives the line.",
        Check = new NextCheck("Record again at a higher rate.", 60),
        Frequency = CauseFrequency.Rare,
    },
    "line-not-dmx",
    "line-rate-doubtful");
