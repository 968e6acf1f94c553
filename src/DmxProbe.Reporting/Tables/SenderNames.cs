using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;

namespace DmxProbe.Reporting.Tables;

/// <summary>Descriptions of senders, asked anew only when a packet may have changed a name.</summary>
internal sealed class SenderNames(SenderTable senders)
{
    private readonly List<SenderSummary?> _known = [];

    /// <summary>The sender with an index.</summary>
    public SenderSummary Of(int sender)
    {
        while (_known.Count <= sender)
        {
            _known.Add(null);
        }

        return _known[sender] ??= senders.Describe(sender);
    }

    /// <summary>A packet that may name somebody came.</summary>
    public void OnEvent(in LinkEvent linkEvent)
    {
        if (linkEvent.Kind is LinkEventKind.ArtPollReply or LinkEventKind.SacnDiscovery)
        {
            _known.Clear();
        }
    }
}
