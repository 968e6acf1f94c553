using DmxProbe.Analysis.Conformance;
using DmxProbe.Analysis.Network;
using DmxProbe.Analysis.Survey;

namespace DmxProbe.Analysis.Findings.Rules;

/// <summary>One IPv4 address at two adapters, by ARP or by ArtPollReply (common practice, no source).</summary>
internal sealed class AddressRule : ISurveyRule
{
    private static readonly string[] Clear =
        ["Before a device is unplugged or renumbered: people clear of moving parts, work light on; its lights stand still or go out."];

    public IEnumerable<Finding> Judge(SurveySnapshot snapshot)
    {
        foreach (AddressConflict conflict in snapshot.Network.Conflicts)
        {
            string id = conflict.AreOneHost ? "two-interfaces-one-network" : "address-conflict";
            yield return new Finding
            {
                Id = id,
                Severity = conflict.AreOneHost || !conflict.IsBackAndForth ? Severity.Warning : Severity.Fault,
                Subject = conflict.Address,
                Text = conflict.AreOneHost
                    ? $"{conflict.Address} is answered for by two adapters of one computer ({Words.List(conflict.Macs)}): it has two network "
                        + "interfaces in this network, and answers may go to the wrong one."
                    : $"Two devices claim the address {conflict.Address}: {Words.List(conflict.Macs)}; what is sent to it reaches now one, now the other.",
                Measured = Words.Invariant($"{conflict.Macs.Count} adapters, the claim changed {Words.Count(conflict.Changes, "time")}"),
                Limit = "one adapter",
                LimitSource = RuleBook.SourceOf(id),
                From = conflict.First,
                To = conflict.Last,
                FirstRecord = conflict.FirstRecord,
                Action = conflict.AreOneHost
                    ? "Switch one of the interfaces off."
                    : "Unplug one of them: if the other then works, give it an address of its own.",
                Cautions = conflict.AreOneHost ? [] : Clear,
            };
        }

        foreach (NodeSummary node in snapshot.Nodes.Where(each => each.SharedBy.Count > 0))
        {
            yield return new Finding
            {
                Id = "device-address-shared",
                Severity = Severity.Fault,
                Subject = node.Address,
                Text = $"Two devices reply from {node.Address}: {Words.List(node.SharedBy)} by the MAC addresses they state; what is sent to it "
                    + "reaches now one, now the other.",
                Measured = "2 MAC addresses within 60 s",
                Limit = "one device",
                LimitSource = RuleBook.SourceOf("device-address-shared"),
                From = node.SharedFrom,
                To = node.Last,
                Action = "Give each device an address of its own.",
                Cautions = Clear,
            };
        }
    }
}
