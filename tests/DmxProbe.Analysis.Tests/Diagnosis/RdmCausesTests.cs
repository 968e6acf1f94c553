using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Diagnosis;
using DmxProbe.Analysis.Rdm;
using DmxProbe.Analysis.Survey;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.Rdm;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Tests.Diagnosis;

/// <summary>What RDM devices say of themselves, as causes: proven by their own reply.</summary>
public class RdmCausesTests
{
    private static readonly UniverseId Wire = new(UniverseProtocol.ArtNet, 0);
    private static readonly ChartSet Charts = new([new Chart("wash", [new ChartMode("10 slot", [], 10), new ChartMode("6 slot", [], 6)])]);
    private static readonly Timestamp Said = Timestamp.FromUnixNanoseconds(1_700_000_000_000_000_000);

    [Fact]
    public void A_device_that_says_another_address_proves_it_with_the_time_of_its_reply()
    {
        DiagnosisResult result = Run(["C"], Device(1, 1, 10), Device(2, 13, 10), Device(3, 16, 10));
        Assert.Equal("rdm-address-differs", result.First!.Cause.Id);
        Assert.Equal(CauseState.Proven, result.First.State);
        Assert.True(result.First.TouchesBad);
        CauseEvidence reply = Assert.Single(result.First.Evidence);
        Assert.Equal(Said, reply.From);
        Assert.Equal(77, reply.FirstRecord);
        Assert.Contains("start address 16, 10 slots", reply.Text, StringComparison.Ordinal);
        Assert.StartsWith("C is at 1.061 on the sheet", result.Sentence, StringComparison.Ordinal);
        Assert.Contains(Caution.Setting, result.Cautions);
    }

    [Fact]
    public void A_device_that_says_another_number_of_slots_proves_another_mode()
    {
        DiagnosisResult result = Run(["B"], Device(1, 1, 10), Device(2, 13, 6), Device(3, 61, 10));
        Assert.Equal("rdm-mode-differs", result.First!.Cause.Id);
        Assert.Contains("it is in mode '6 slot'", result.First.Text, StringComparison.Ordinal);
        Assert.Equal(78, result.First.Evidence[0].FirstRecord);
    }

    [Fact]
    public void A_device_that_says_what_the_sheet_says_excludes_both()
    {
        DiagnosisResult result = Run(["C"], Device(1, 1, 10), Device(2, 13, 10), Device(3, 61, 10));
        Assert.Superset(
            new HashSet<string> { "rdm-address-differs", "rdm-mode-differs" },
            result.Excluded.Select(report => report.Cause.Id).ToHashSet(StringComparer.Ordinal));
    }

    // C has no RDM: nothing of it is excluded because others answer.
    [Fact]
    public void A_bad_unit_that_nobody_heard_is_not_cleared_by_the_others()
    {
        DiagnosisResult result = Run(["C"], Device(1, 1, 10), Device(2, 13, 10));
        Assert.DoesNotContain(result.Excluded, report => report.Cause.Id == "rdm-address-differs");
        Assert.Contains(result.CannotTell, report => report.Cause.Id == "rdm-address-differs");
    }

    [Fact]
    public void Without_rdm_the_causes_need_it()
    {
        DiagnosisResult result = Run(["C"]);
        Assert.Equal(CauseInputs.Rdm, Assert.Single(result.CannotTell, report => report.Cause.Id == "rdm-address-differs").Missing);
    }

    private static RdmDevice Device(uint number, int address, int footprint) => new()
    {
        Universe = Wire,
        Uid = new RdmUid(0x7FF0_0000_0000 | number),
        First = Said,
        Last = Said,
        FirstRecord = 1,
        IsHeard = true,
        StartAddress = address,
        AddressAt = Said,
        AddressRecord = 77,
        PersonalityAt = Said,
        PersonalityRecord = 78,
        Footprint = footprint,
    };

    private static DiagnosisResult Run(string[] bad, params RdmDevice[] devices)
    {
        PatchSheet sheet = PatchReader.Read(new StringReader("unit,type,mode,universe,address\nA,wash,10 slot,1,1\nB,wash,10 slot,1,13\nC,wash,10 slot,1,61\n")).Sheet!;
        RdmSnapshot? rdm = devices.Length == 0 ? null : new RdmSnapshot(devices, [], 0);
        SurveySnapshot survey = new() { Inputs = [], Universes = [], Nodes = [], Discovery = [], Findings = [], Rdm = rdm };
        return Diagnoser.Run(new DiagnosisCase(survey, [])
        {
            Sheet = sheet,
            Charts = Charts,
            Bad = bad,
            RdmSheet = rdm is null ? null : RdmSheetCheck.Compare(rdm, sheet, Charts, new Dictionary<int, UniverseId> { [1] = Wire }),
        });
    }
}
