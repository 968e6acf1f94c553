using DmxProbe.Analysis.Conformance;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.ArtNet;

namespace DmxProbe.Analysis.Findings.Rules;

/// <summary>Art-Net that is broadcast, or comes from or goes to another UDP port (Art-Net 4, 1.4dn, page 74).</summary>
internal sealed class SendingPathRule : ISurveyRule
{
    // More universes than this, broadcast, are too much for slow devices: the old editions' limit for broadcast was 40.
    private const int MostBroadcast = 40;

    public IEnumerable<Finding> Judge(SurveySnapshot snapshot)
    {
        var senders =
            from universe in snapshot.Universes
            where universe.Id.Protocol == UniverseProtocol.ArtNet
            from stream in universe.Streams
            group (Universe: universe, Stream: stream) by stream.Sender.Address;
        return senders.SelectMany(sender => Judge([.. sender]));
    }

    private static IEnumerable<Finding> Judge((UniverseSummary Universe, StreamSummary Stream)[] sender)
    {
        string name = Words.Name(sender[0].Stream.Sender);
        var broadcast = sender.Where(each => each.Stream.BroadcastFrames > 0).ToArray();
        if (broadcast.Length > 0)
        {
            bool isHeavy = broadcast.Length > MostBroadcast;
            string everybody = Paths(broadcast).Where(each => each.IsBroadcast).Select(each => each.Destination.ToString()).FirstOrDefault("everybody");
            yield return Of("art-net-broadcast", isHeavy ? Severity.Warning : Severity.Info, broadcast) with
            {
                Text = $"{name} broadcasts ArtDmx to {everybody} ({Ports(broadcast)}): every device of the network has to take it apart"
                    + (isHeavy ? ", and slow ones lose packets over that many." : "; since Art-Net 4 it is to be sent to those who want it only."),
                Measured = Words.Invariant($"{broadcast.Length} {(broadcast.Length == 1 ? "Port-Address" : "Port-Addresses")}, ")
                    + Words.Count(broadcast.Sum(each => each.Stream.BroadcastFrames), "frame"),
                Limit = isHeavy ? Words.Invariant($"{MostBroadcast} Port-Addresses (older editions); none now") : "none",
                Action = "Set the sender to unicast if it can.",
            };
        }

        var astray = sender.Where(each => each.Stream.Paths.Any(path => path.DestinationPort != ArtNetHeader.Port)).ToArray();
        var other = sender.Where(each => each.Stream.OtherPortFrames > 0).Except(astray).ToArray();
        if (astray.Length > 0)
        {
            SendingPath path = astray[0].Stream.Paths.First(each => each.DestinationPort != ArtNetHeader.Port);
            yield return Of("art-net-port", Severity.Warning, astray) with
            {
                Text = Words.Invariant($"{name} sends ArtDmx to UDP port {path.DestinationPort} instead of 6454 ({Ports(astray)}): devices do not hear it."),
                Measured = Words.Count(astray.Sum(each => each.Stream.OtherPortFrames), "frame"),
                Limit = "6454",
                Action = "Set the sender to port 6454.",
            };
        }

        if (other.Length > 0)
        {
            // The list of paths is bounded: the one meant may be missing.
            string port = Paths(other).Where(each => each.SourcePort != ArtNetHeader.Port).Select(each => Words.Invariant($"UDP port {each.SourcePort}")).FirstOrDefault("another UDP port");
            yield return Of("art-net-port", Severity.Info, other) with
            {
                Text = $"{name} sends ArtDmx from {port} instead of 6454 ({Ports(other)}); most devices do not mind.",
                Measured = Words.Count(other.Sum(each => each.Stream.OtherPortFrames), "frame"),
                Limit = "6454",
                Action = "If one device does not hear it, look there for a setting, or send from another program.",
            };
        }
    }

    private static IEnumerable<SendingPath> Paths((UniverseSummary Universe, StreamSummary Stream)[] all) =>
        all.SelectMany(each => each.Stream.Paths);

    private static string Ports((UniverseSummary Universe, StreamSummary Stream)[] all) =>
        Words.List(all.Select(each => each.Universe.Id.Number).Distinct().Select(number => Words.Invariant($"Port-Address {number}")));

    private static Finding Of(string id, Severity severity, (UniverseSummary Universe, StreamSummary Stream)[] all) => new()
    {
        Id = id,
        Severity = severity,
        Subject = Words.Name(all[0].Stream.Sender),
        Text = "",
        LimitSource = RuleBook.SourceOf(id),
        From = all.Min(each => each.Stream.First),
        To = all.Max(each => each.Stream.Last),
        FirstRecord = all.Min(each => each.Stream.FirstRecord),
    };
}
