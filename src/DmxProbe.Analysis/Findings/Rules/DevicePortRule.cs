using DmxProbe.Analysis.Conformance;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Diagnosis;
using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Findings.Rules;

/// <summary>What devices say in their replies against what is sent to them (Art-Net 4, 1.4dn, pages 36 to 44, 72 and 74).</summary>
internal sealed class DevicePortRule : ISurveyRule
{
    private static readonly Duration Enough = Duration.FromSeconds(20);

    public IEnumerable<Finding> Judge(SurveySnapshot snapshot)
    {
        UniverseSummary[] universes = [.. snapshot.Universes.Where(each => each.Id.Protocol == UniverseProtocol.ArtNet)];
        foreach (NodeSummary node in snapshot.Nodes.Where(each => each.Outputs.Count > 0 && !each.PortsLeftOut))
        {
            foreach (Finding finding in Unlisted(node, universes))
            {
                yield return finding;
            }

            int[] alone = [.. node.Outputs.Where(port => !universes.Any(universe => universe.Id.Number == port))];
            bool isLongEnough = snapshot is { First: Timestamp first, Last: Timestamp last } && last - first > Enough;
            if (alone.Length > 0 && isLongEnough && !node.OutputsSacn)
            {
                yield return Of(node, "output-without-sender", Severity.Info) with
                {
                    Text = $"{node.Address} has outputs set to {Ports(alone)}, which nobody sends here: they stay dark or keep their last look.",
                    Measured = Words.Count(alone.Length, "output"),
                    Action = "If lights hang on them, look whether the sender has these Port-Addresses switched on, and whether both count from 0.",
                    Cautions = [Caution.Returning],
                };
            }
        }
    }

    private static IEnumerable<Finding> Unlisted(NodeSummary node, UniverseSummary[] universes)
    {
        (UniverseSummary Universe, StreamSummary Stream)[] sent =
        [
            .. from universe in universes
               where !node.Outputs.Contains(universe.Id.Number)
               from stream in universe.Streams
               where stream.Paths.Any(path => path.IsUnicast && path.Destination.ToString() == node.Address)
               select (universe, stream),
        ];
        if (sent.Length > 0)
        {
            yield return Of(node, "sent-to-unlisted-port", Severity.Warning) with
            {
                Text = $"{Ports(sent.Select(each => each.Universe.Id.Number))} from {Words.List(sent.Select(each => Words.Name(each.Stream.Sender)).Distinct())} "
                    + $"goes to {node.Address}, whose outputs are set to {Ports(node.Outputs)}: those levels go nowhere.",
                Measured = Words.Count(sent.Sum(each => each.Stream.UnicastFrames), "frame"),
                Limit = Ports(node.Outputs),
                From = sent.Min(each => each.Stream.First),
                To = sent.Max(each => each.Stream.Last),
                FirstRecord = sent.Min(each => each.Stream.FirstRecord),
                Action = "Set the output and the sender to the same Port-Address; mind whether they count from 0 or from 1.",
                Cautions = [Caution.Returning],
            };
        }
    }

    private static string Ports(IEnumerable<int> numbers) =>
        Words.List(numbers.Distinct().Select(number => Words.Invariant($"Port-Address {number}")));

    private static Finding Of(NodeSummary node, string id, Severity severity) => new()
    {
        Id = id,
        Severity = severity,
        Subject = node.Address,
        Text = "",
        LimitSource = RuleBook.SourceOf(id),
        From = node.First,
        To = node.Last,
    };
}
