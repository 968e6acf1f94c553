using DmxProbe.Analysis.Survey;

namespace DmxProbe.Analysis.Findings.Rules;

/// <summary>Packets missing by their sequence numbers. Shares from which it is called a fault: common practice, no source.</summary>
internal sealed class LostPacketsRule : ISurveyRule
{
    private const double WarningShare = 0.001;
    private const double FaultShare = 0.01;

    // One jump in a handful of packets may as well be a sender that started its count anew (E1.31-2018 section 6.7.2).
    private const int FewestToJudge = 20;

    public IEnumerable<Finding> Judge(SurveySnapshot snapshot)
    {
        long ownLosses = snapshot.Inputs.Sum(input => input.LostByCapture);
        foreach (UniverseSummary universe in snapshot.Universes)
        {
            foreach (StreamSummary stream in universe.Streams.Where(each => each.Sequence.Lost > 0 && !SharedSequenceRule.Applies(snapshot, each)))
            {
                double share = (double)stream.Sequence.Lost / (stream.Sequence.Lost + stream.Sequence.Counted);
                bool mayBeOurs = ownLosses > 0;
                bool tooFew = stream.Sequence.Counted < FewestToJudge;

                // All of them missing in one place: a count started anew somewhere else looks the same.
                bool atOnce = stream.Sequence is { LossEvents: 1, Lost: > 1 };
                yield return new Finding
                {
                    Id = "lost-packets",
                    Severity = mayBeOurs || tooFew || share <= WarningShare ? Severity.Info
                        : share > FaultShare && !atOnce ? Severity.Fault : Severity.Warning,
                    Subject = universe.Id.Label,
                    Text = $"{universe.Id.Label} from {Words.Name(stream.Sender)}: "
                        + (tooFew
                            ? $"{Words.Count(stream.Sequence.Lost, "packet")} missing by the sequence numbers, but only "
                                + $"{Words.Count(stream.Sequence.Counted, "packet")} came: too few to tell a loss from a count started anew"
                            : $"{Words.Count(stream.Sequence.Lost, "packet")} lost ({Words.Percent(share)})"
                                + (atOnce ? ", all in one place: lost at once, or its count was started anew" : ""))
                        + (mayBeOurs
                            ? $"; the capture itself lost {Words.Count(ownLosses, "record")}, so the network is not to blame for sure."
                            : "."),
                    Measured = Words.Invariant($"{stream.Sequence.Lost} of {stream.Sequence.Lost + stream.Sequence.Counted} packets"),
                    Limit = Words.Percent(FaultShare),
                    LimitSource = "common practice, no source",
                    From = stream.First,
                    To = stream.Last,
                    FirstRecord = stream.FirstRecord,
                    Action = tooFew ? "Capture for longer." : mayBeOurs
                        ? "Capture again with a larger buffer before looking at the network."
                        : "Capture nearer to the sender: losses that are there too are its own, else look at the switches or the radio between.",
                };
            }
        }
    }
}
