using System.Text.RegularExpressions;

using DmxProbe.Analysis.Diagnosis;
using DmxProbe.Testing.Files;

namespace DmxProbe.Analysis.Tests.Diagnosis;

/// <summary>What the survey finds is what <c>diagnose</c> knows a cause for, or it is said here why not.</summary>
public partial class FindingCausesTests
{
    // No cause in the rig follows from these, or a cause reads them in another way.
    private static readonly (string Id, string Why)[] Exceptions =
    [
        ("changes-without-packet", "how well the interface told its serial input, not what the line carried"),
        ("device-merges-unseen", "merge-surprise reads it, with what the device says beside it"),
        ("line-sampled-coarsely", "how well the line was recorded: other findings of the line are then not said"),
        ("line-timing-outside-receive", "the causes of line timing judge the figures themselves, each its own"),
        ("line-timing-outside-transmit", "the causes of line timing judge the figures themselves, each its own"),
        ("more-senders-than-kept", "what this program keeps, not what is wrong in the rig"),
        ("old-group-version", "joining by IGMPv1 harms no light by itself"),
        ("stray-octets", "octets that the interface sent between its messages"),
    ];

    /// <summary>Every finding that a rule of the survey can make.</summary>
    public static TheoryData<string> Ids => [.. Known()];

    [Theory]
    [MemberData(nameof(Ids))]
    public void A_finding_has_a_cause_or_a_reason_why_not(string id)
    {
        bool hasCause = AllCauses.List.OfType<FindingCause>().Any(cause => cause.Findings.Contains(id));
        bool isException = Exceptions.Any(each => each.Id == id);
        Assert.True(hasCause || isException, $"'{id}' is found by a survey, and diagnose knows no cause for it: name it in a FindingCause, or say here why not");
        Assert.False(hasCause && isException, $"'{id}' has a cause now: take it off the list");
    }

    [Fact]
    public void Causes_and_exceptions_name_findings_that_exist()
    {
        HashSet<string> known = [.. Known()];
        Assert.True(known.Count > 100, $"{known.Count} findings were read from the rules");
        Assert.DoesNotContain(Exceptions.Select(each => each.Id).Concat(AllCauses.List.OfType<FindingCause>().SelectMany(cause => cause.Findings)), id => !known.Contains(id));
    }

    // The rules write their ids as plain words; nothing else in them is written that way.
    private static IEnumerable<string> Known() =>
        Directory.EnumerateFiles(Path.Combine(Places.Repository, "src", "DmxProbe.Analysis", "Findings", "Rules"), "*.cs")
            .SelectMany(file => Id().Matches(File.ReadAllText(file)))
            .Select(found => found.Groups[1].Value)
            .Distinct(StringComparer.Ordinal)
            .Order(StringComparer.Ordinal);

    [GeneratedRegex("\"([a-z0-9]+(?:-[a-z0-9]+)+)\"")]
    private static partial Regex Id();
}
