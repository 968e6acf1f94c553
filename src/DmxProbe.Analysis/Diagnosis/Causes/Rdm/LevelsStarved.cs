namespace DmxProbe.Analysis.Diagnosis.Causes.Rdm;

/// <summary>Cause: RDM takes the time of the levels.</summary>
internal sealed class LevelsStarved() : FindingCause(
    new CauseCard("levels-starved-by-rdm", CauseGroup.LineTiming, "RDM takes the time of the levels")
    {
        Needs = [CauseInputs.Rdm],
        Test = "Levels come too seldom, or are cut short, while RDM passes (E1.11 and E1.20, by secondary sources).",
        NotSeen = "RDM leaves the levels their time.",
        Fix = "Keep RDM for set-up: switch its background questions off during the show.",
        Check = new NextCheck("Switch RDM off at the controller and see whether the stutter goes.", 30),
    },
    "levels-starved-by-rdm",
    "levels-cut-short-for-rdm");
