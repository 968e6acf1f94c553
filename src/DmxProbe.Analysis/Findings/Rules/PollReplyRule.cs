using DmxProbe.Analysis.Survey;

namespace DmxProbe.Analysis.Findings.Rules;

/// <summary>ArtPollReply packets that are short, state a wrong port or come unasked.</summary>
internal sealed class PollReplyRule : ISurveyRule
{
    private const int WholeReply = 239;
    private const int ArtNetPort = 6454;
    private const int SwappedPort = 13849;

    public IEnumerable<Finding> Judge(SurveySnapshot snapshot)
    {
        foreach (NodeSummary node in snapshot.Nodes)
        {
            List<string> odd = [];
            if (node.StatedPort != ArtNetPort)
            {
                odd.Add(Words.Invariant($"state UDP port {node.StatedPort} instead of 6454")
                    + (node.StatedPort == SwappedPort ? " (its octets are swapped)" : ""));
            }

            if (node.ShortestReply < WholeReply)
            {
                odd.Add(Words.Invariant($"are {node.ShortestReply} octets long instead of 239 (older texts end earlier)"));
            }

            if (node.Unasked > 0)
            {
                odd.Add(Words.Invariant($"came unasked {node.Unasked} times of {node.Replies}"));
            }

            if (odd.Count > 0)
            {
                yield return new Finding
                {
                    Id = "odd-poll-reply",
                    Severity = node.StatedPort != ArtNetPort ? Severity.Warning : Severity.Info,
                    Subject = node.Address,
                    Text = $"ArtPollReply packets from {node.Address}"
                        + (node.PortName.Length > 0 ? $" ('{node.PortName}')" : "") + $" {Words.List(odd)}.",
                    Measured = Words.Invariant($"{node.Replies} ArtPollReply packets"),
                    LimitSource = "Art-Net 4 (1.4dn) pages 36 to 44",
                    From = node.First,
                    To = node.Last,
                    Action = node.StatedPort != ArtNetPort
                        ? "If a controller does not find or reach this device, enter its address there by hand; its software needs an update."
                        : "Nothing while controllers find it; if one does not, enter its address there by hand.",
                };
            }
        }
    }
}
