using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;
using DmxProbe.Capture.Files;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Diagnosis;
using DmxProbe.Testing.Files;

namespace DmxProbe.Analysis.Tests.Findings;

/// <summary>A technician can act on every finding about a network: a sentence, where, when, by which rule, and what to do.</summary>
public class FindingFormTests
{
    /// <summary>The network captures of the repository.</summary>
    public static TheoryData<string> Captures =>
    [
        .. new[] { "net", "arbitration", "rdm", "harbour-hall" }
            .SelectMany(folder => Directory.EnumerateFiles(Path.Combine(Places.Repository, "captures", folder), "*.pcap*").Where(path => Path.GetExtension(path) is ".pcap" or ".pcapng"))
            .Select(file => Path.GetRelativePath(Places.Repository, file)),
    ];

    /// <summary>The faults of the rig simulator that a network shows.</summary>
    public static TheoryData<string> Faults => [.. Network().Select(each => each.Id).Distinct(StringComparer.Ordinal)];

    [Theory]
    [MemberData(nameof(Captures))]
    public void A_finding_of_a_recording_can_be_acted_on(string capture)
    {
        using ICaptureSource source = CaptureFile.Open(Path.Combine(Places.Repository, capture));
        Hold(Surveyor.Run(source, CancellationToken.None));
    }

    [Theory]
    [MemberData(nameof(Faults))]
    public void A_finding_of_a_fault_put_in_can_be_acted_on(string id)
    {
        foreach (FaultInjection injection in Network().Where(each => each.Id == id))
        {
            foreach (UniverseProtocol protocol in injection.On.Where(each => each is UniverseProtocol.Sacn or UniverseProtocol.ArtNet))
            {
                FaultRig rig = new(4_711, protocol);
                injection.Apply(rig, false);
                Hold(rig.Case().Survey);
            }
        }
    }

    private static IEnumerable<FaultInjection> Network() =>
        FaultInjections.All.Where(each => each.On.Any(protocol => protocol is UniverseProtocol.Sacn or UniverseProtocol.ArtNet));

    private static void Hold(SurveySnapshot survey) => Assert.All(survey.Findings, finding =>
    {
        Assert.EndsWith(".", finding.Text, StringComparison.Ordinal);
        Assert.True(finding.Subject.Length > 0, finding.Text);
        Assert.True(finding.From != default, $"no time: {finding.Text}");
        Assert.True(finding.Action.EndsWith('.'), $"nothing to do: {finding.Text}");
        Assert.DoesNotContain("  ", finding.Text + finding.Action, StringComparison.Ordinal);
    });
}
