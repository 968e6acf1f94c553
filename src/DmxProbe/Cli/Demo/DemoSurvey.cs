using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Survey;

namespace DmxProbe.Cli.Demo;

/// <summary>What the survey of the built-in soundcheck must say; what was built into it is in captures/README.md.</summary>
internal static class DemoSurvey
{
    private const string EqualPriority = "senders-at-equal-priority";

    /// <summary>Holds a survey of the soundcheck against what was built into it.</summary>
    public static IReadOnlyList<DemoAnswer> Answers(SurveySnapshot survey)
    {
        UniverseId artNet = new(UniverseProtocol.ArtNet, 0);
        UniverseId second = new(UniverseProtocol.Sacn, 2);
        UniverseId third = new(UniverseProtocol.Sacn, 3);
        IEnumerable<UniverseId> expected = [second, third, artNet];
        return
        [
            new("Which universes are sent?", List(expected.Select(id => id.Label)), List(survey.Universes.Select(universe => universe.Id.Label))),
            new($"Who sends {artNet.Label}?", "10.20.0.10", Senders(survey, artNet)),
            new($"Who sends {second.Label}?", "main controller, old laptop", Senders(survey, second)),
            new($"Who sends {third.Label}?", "main controller", Senders(survey, third)),
            new($"What is wrong with {second.Label}?", "two senders at priority 100", EqualPriorityOf(survey, second)),
        ];
    }

    private static string Senders(SurveySnapshot survey, UniverseId id) =>
        survey.Universes.FirstOrDefault(universe => universe.Id == id) is UniverseSummary universe
            ? List(universe.Streams.Select(stream => stream.Sender.Name.Length > 0 ? stream.Sender.Name : stream.Sender.Address))
            : "nobody";

    private static string EqualPriorityOf(SurveySnapshot survey, UniverseId id)
    {
        Finding? fault = survey.Findings.FirstOrDefault(finding =>
            finding.Id == EqualPriority && finding.Severity == Severity.Fault && finding.Subject == id.Label);
        ObeyedSpan? shared = survey.Universes.FirstOrDefault(universe => universe.Id == id)?.Obeyed
            .FirstOrDefault(span => span.Senders.Count == 2);
        return fault is null || shared is null ? "nothing" : $"two senders at priority {shared.Priority}";
    }

    private static string List(IEnumerable<string> words) => string.Join(", ", words.Order(StringComparer.Ordinal));
}
