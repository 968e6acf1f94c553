namespace DmxProbe.Analysis.Diagnosis.Causes.Rdm;

/// <summary>Cause: RDM questions without answers.</summary>
internal sealed class AnswersMissing() : FindingCause(
    new CauseCard("rdm-answers-missing", CauseGroup.Cable, "RDM questions without answers")
    {
        Needs = [CauseInputs.Rdm],
        Test = "RDM requests unanswered within 2.8 ms on a line (E1.20, by secondary sources), devices that fall silent, or a gateway whose table comes and goes.",
        NotSeen = "RDM devices answer.",
        Fix = "Look for splitters that do not pass both ways, and for the termination at the start of the line too.",
        Check = new NextCheck("Ask the devices with the splitter left out.", 180, Ladder: true),
        Cautions = [Caution.Unplugging, Caution.Ladder],
    },
    "rdm-answers-missing",
    "rdm-no-answers",
    "rdm-device-silent",
    "rdm-answers-late",
    "rdm-table-unsteady",
    "rdm-device-gone");
