using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;

namespace DmxProbe.Cli.Text;

/// <summary>What a sender is called in text: short, and never the same for two senders of one list.</summary>
internal sealed class SenderWords
{
    private readonly Dictionary<int, string> _names = [];

    /// <summary>Finds a name for each sender.</summary>
    public SenderWords(IEnumerable<SenderSummary> senders)
    {
        List<SenderSummary> all = [.. senders.DistinctBy(sender => sender.Index)];
        foreach (IGrouping<string, SenderSummary> sameName in all.GroupBy(sender => sender.Name))
        {
            bool one = sameName.Count() == 1 && sameName.Key.Length > 0;
            bool byAddress = sameName.Select(sender => sender.Address).Distinct().Count() == sameName.Count();
            foreach (SenderSummary sender in sameName)
            {
                string quoted = sender.Name.Length == 0
                    ? sender.Address.Length == 0 ? "whoever drives it" : sender.Address
                    : sender.Address.Length == 0 ? $"'{sender.Name}'" : $"'{sender.Name}' ({sender.Address})";
                _names[sender.Index] = one ? $"'{sender.Name}'" : byAddress ? quoted : quoted + Difference(sender);
            }
        }
    }

    /// <summary>The name of a sender, by its index.</summary>
    public string this[int index] => _names.TryGetValue(index, out string? name) ? name : "a sender that is not listed";

    private static string Difference(SenderSummary sender) =>
        sender.Protocol switch
        {
            UniverseProtocol.ArtNet => $", Physical {sender.Physical}",
            UniverseProtocol.Sacn => $", CID {sender.Cid}",
            _ => "",
        };
}
