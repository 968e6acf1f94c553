using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Diagnosis;
using DmxProbe.Analysis.Survey;

namespace DmxProbe.Analysis.Findings.Rules;

/// <summary>One CID from several addresses of one IP version: two programs that receivers take for one.</summary>
internal sealed class SharedIdentityRule : ISurveyRule
{
    public IEnumerable<Finding> Judge(SurveySnapshot snapshot)
    {
        IEnumerable<IGrouping<int, (UniverseSummary Universe, StreamSummary Stream)>> senders = snapshot.Universes
            .Where(universe => universe.Id.Protocol == UniverseProtocol.Sacn)
            .SelectMany(universe => universe.Streams.Select(stream => (Universe: universe, Stream: stream)))
            .GroupBy(pair => pair.Stream.Sender.Index);
        foreach (IGrouping<int, (UniverseSummary Universe, StreamSummary Stream)> sender in senders)
        {
            StreamSummary first = sender.First().Stream;
            string[] shared = [.. first.Sender.Addresses.GroupBy(address => address.Contains(':', StringComparison.Ordinal))
                .Where(version => version.Count() > 1)
                .SelectMany(version => version)];
            if (shared.Length == 0)
            {
                continue;
            }

            yield return new Finding
            {
                Id = "one-cid-several-addresses",
                Severity = Severity.Warning,
                Subject = Words.Name(first.Sender),
                Text = $"One CID ({first.Sender.Cid}) sends from {Words.List(shared)}: receivers take them for one sender and "
                    + "their packets run into each other.",
                Measured = Words.Invariant($"{shared.Length} addresses"),
                Limit = "one CID per sender",
                LimitSource = "E1.31-2018 3.5: a source is its CID",
                From = first.First,
                To = first.Last,
                FirstRecord = first.FirstRecord,
                Action = "If these are two machines, give each an identity of its own or switch one off; one machine with two network "
                    + "interfaces should use one.",
                Cautions = [Caution.Silencing],
            };
        }
    }
}
