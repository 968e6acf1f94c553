using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Diagnosis;
using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Findings.Rules;

/// <summary>Senders that stop, end their stream, or fall silent long enough for receivers to let go of them.</summary>
internal sealed class SilenceRule : ISurveyRule
{
    private const int TerminationPackets = 3;

    public IEnumerable<Finding> Judge(SurveySnapshot snapshot) =>
        from universe in snapshot.Universes
        from stream in universe.Streams
        from finding in Judge(universe, stream)
        select finding;

    private static IEnumerable<Finding> Judge(UniverseSummary universe, StreamSummary stream)
    {
        string who = $"{universe.Id.Label} from {Words.Name(stream.Sender)}";
        bool isSacn = universe.Id.Protocol == UniverseProtocol.Sacn;
        Duration loss = ProtocolTimes.LossOf(universe.Id.Protocol);
        bool isNetwork = isSacn || universe.Id.Protocol == UniverseProtocol.ArtNet;
        string source = isSacn ? "E1.31-2018 6.7.1"
            : isNetwork ? "Art-Net 4 (1.4dn) pages 76 and 77"
            : "E1.11 (2008), by secondary sources";
        if (stream.Silent)
        {
            yield return About(universe, stream) with
            {
                Id = "sender-stopped",
                Severity = Severity.Warning,
                Text = !isNetwork
                    ? $"{who}: stopped; a receiver may take it for a loss of signal {Words.Seconds(loss)} after the last break."
                    : isSacn
                    ? $"{who}: stopped without ending its stream; receivers count it as lost {Words.Seconds(loss)} later."
                    : $"{who}: stopped; devices go on with its last levels, in a merge for {Words.Seconds(loss)}.",
                Limit = Words.Seconds(loss),
                LimitSource = source,
                From = stream.Last,
                To = stream.Last + loss,
                Action = "Ask whether it was switched off; if not, look at its power, cable and network.",
                Cautions = [Caution.Returning],
            };
        }

        if (stream.Terminations > 0)
        {
            bool tooFew = stream.Terminations < TerminationPackets;
            yield return About(universe, stream) with
            {
                Id = "stream-ended",
                Severity = Severity.Info,
                Text = $"{who}: ended its stream with {Words.Count(stream.Terminations, "termination packet")}"
                    + (tooFew ? "; three are to be sent." : stream.Terminated ? "." : " and came back."),
                Measured = Words.Count(stream.Terminations, "packet"),
                Limit = "3 packets",
                LimitSource = "E1.31-2018 6.2.6",
                Action = stream.Terminated ? "If lights went out with it, ask who switched it off." : "Nothing, if somebody switched it off and on again.",
                From = stream.Last,
            };
        }

        if (stream.Returns > 0 && stream.Intervals is { } intervals && intervals.Maximum > loss)
        {
            yield return About(universe, stream) with
            {
                Id = "sender-fell-silent",
                Severity = Severity.Warning,
                Text = $"{who}: fell silent {Words.Count(stream.Returns, "time")}, longest {Words.Seconds(intervals.Maximum)}; receivers "
                    + $"lose a sender after {Words.Seconds(loss)}.",
                Measured = "longest silence " + Words.Seconds(intervals.Maximum),
                Limit = Words.Seconds(loss),
                LimitSource = source,
                From = stream.LongestSilenceFrom,
                To = stream.LongestSilenceFrom + intervals.Maximum,
                Action = "Look at the sender and the way to it at that time.",
            };
        }
    }

    private static Finding About(UniverseSummary universe, StreamSummary stream) => new()
    {
        Id = "",
        Severity = Severity.Info,
        Subject = universe.Id.Label,
        Text = "",
        From = stream.First,
        To = stream.Last,
    };
}
