using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Diagnosis;
using DmxProbe.Analysis.Findings;
using DmxProbe.Testing.Diagnosis;

namespace DmxProbe.Analysis.Tests.Findings;

/// <summary>A survey names every fault that a diagnosis names without sheet and complaint, in the same words, and each once.</summary>
public class CauseRuleTests
{
    private const ulong Seed = 4_711;
    private const CauseInputs NoPatch = CauseInputs.Network | CauseInputs.Line | CauseInputs.Serial;

    /// <summary>The causes that can be put in and that need no sheet.</summary>
    public static TheoryData<string> Causes =>
        [.. FaultInjections.All.Select(each => each.Id).Distinct(StringComparer.Ordinal).Where(id => AllCauses.Find(id)!.Card.Needs.Any(needs => (needs & ~NoPatch) == 0))];

    [Theory]
    [MemberData(nameof(Causes))]
    public void What_needs_no_sheet_is_told_by_the_survey_in_the_words_of_the_diagnosis(string id)
    {
        foreach (FaultInjection injection in FaultInjections.All.Where(each => each.Id == id))
        {
            FaultRig rig = new(Seed, injection.On[0] == UniverseProtocol.Line ? UniverseProtocol.Sacn : injection.On[0]);
            injection.Apply(rig, false);
            DiagnosisCase it = rig.Case();
            string[] said = [.. it.Survey.Findings.Select(finding => finding.Text)];
            CauseReport[] reports = [.. Diagnoser.Run(new DiagnosisCase(it.Survey, [])).Ranked];
            Assert.Contains(reports, report => report.Cause.Id == id);
            Assert.All(reports, report => Assert.Contains(report.Text, said));
            Assert.Equal(said.Length, said.Distinct(StringComparer.Ordinal).Count());

            // The exit code of both is the same.
            Assert.Equal(
                reports.Any(report => report.Severity == Severity.Fault),
                it.Survey.Findings.Any(finding => finding.Severity == Severity.Fault));
        }
    }

    // The three that only diagnose told.
    [Theory]
    [InlineData("old-source-left-on", UniverseProtocol.Sacn)]
    [InlineData("merge-surprise", UniverseProtocol.ArtNet)]
    [InlineData("refresh-slow-on-network", UniverseProtocol.Sacn)]
    public void A_survey_finding_of_a_cause_has_its_name_its_evidence_and_its_action(string id, UniverseProtocol protocol)
    {
        FaultRig rig = new(Seed, protocol);
        FaultInjections.All.First(each => each.Id == id).Apply(rig, false);
        Finding finding = Assert.Single(rig.Case().Survey.Findings, each => each.Id == id || (id == "merge-surprise" && each.Id == "device-merges-unseen"));
        Assert.NotEmpty(finding.Subject);
        Assert.NotEmpty(finding.Action);
        if (id != "merge-surprise")
        {
            Assert.NotEmpty(finding.Measured);
            Assert.True(finding.From < finding.To);
            Assert.True(finding.FirstRecord > 0);
        }
    }
}
