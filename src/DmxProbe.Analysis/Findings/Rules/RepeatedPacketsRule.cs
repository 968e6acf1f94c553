using DmxProbe.Analysis.Conformance;
using DmxProbe.Analysis.Network;
using DmxProbe.Analysis.Survey;

namespace DmxProbe.Analysis.Findings.Rules;

/// <summary>The same packet again: captured twice, sent twice, or going round in a loop.</summary>
internal sealed class RepeatedPacketsRule : ISurveyRule
{
    // A network that now and then doubles a packet is no mirror: common practice, no source.
    private const double MostOfAll = 0.2;

    private const int EnoughToJudge = 3;

    private static readonly (RepeatKind Kind, string How)[] Captured =
    [
        (RepeatKind.Mirrored, "a mirror that copies both directions of a port does so"),
        (RepeatKind.OtherInterface, "two interfaces of the capture hear the same network"),
        (RepeatKind.OtherVlan, "it shows them in two VLANs, or with and without a tag"),
        (RepeatKind.Routed, "it shows them before and behind a router"),
    ];

    public IEnumerable<Finding> Judge(SurveySnapshot snapshot)
    {
        Case[] all =
        [
            .. from universe in snapshot.Universes
               from stream in universe.Streams
               where stream.Repeats is not null
               select new Case(universe, stream, stream.Repeats!),
        ];
        return Loops(all)
            .Concat(Captured.SelectMany(kind => CapturedTwice(all, kind.Kind, kind.How)))
            .Concat(SentTwice(all))
            .Concat(TwoAddresses(all));
    }

    private static IEnumerable<Finding> Loops(Case[] all)
    {
        var looped = all.Where(each => each.Repeats.Looped > 0).ToArray();
        if (looped.Length > 0)
        {
            yield return Of("switch-loop", Severity.Fault, looped) with
            {
                Text = $"Packets of {Names(looped)} come round more than ten times a second: the network has a loop.",
                Measured = Words.Count(looped.Sum(each => each.Repeats.Looped), "packet") + " more than ten times within 1 s",
                Limit = "10 times in 1 s",
                From = looped.Min(each => each.Repeats.LoopFrom),
                To = looped.Max(each => each.Repeats.Last > each.Repeats.LoopFrom ? each.Repeats.Last : each.Repeats.LoopFrom),
                FirstRecord = looped.Min(each => each.Repeats.LoopRecord),
                Action = "Look for a cable that joins two ports of the same switch, or two ways between switches; take one out.",
                Cautions = ["Before a network cable is pulled: people clear of moving parts, work light on; lights behind it stand still or go out."],
            };
        }
    }

    private static IEnumerable<Finding> CapturedTwice(Case[] all, RepeatKind kind, string how)
    {
        var copied = all.Where(each => each.Repeats.Of(kind) >= EnoughToJudge).ToArray();
        if (copied.Length == 0)
        {
            yield break;
        }

        long copies = copied.Sum(each => each.Repeats.Of(kind));
        bool isWholesale = copies > MostOfAll * copied.Sum(each => each.Stream.Frames);
        yield return Of("packets-captured-twice", Severity.Info, copied) with
        {
            Text = $"{Names(copied)}: {Words.Count(copies, "packet")} {(copies == 1 ? "is" : "are")} in this capture twice although sent once; {how}"
                + (isWholesale ? ", so the rates shown are too high." : ", or the network doubled them."),
            Measured = Words.Count(copies, "packet") + " with the same IP identification and UDP checksum within 50 ms",
            Action = isWholesale ? "Capture at one interface and one direction to get true rates." : "Nothing; receivers discard the second.",
        };
    }

    private static IEnumerable<Finding> SentTwice(Case[] all)
    {
        // A sender whose number never changes repeats nothing: SequenceOrderRule has it.
        var sent = all
            .Where(each => each.Repeats.Of(RepeatKind.SentTwice) >= EnoughToJudge && each.Stream.Sequence.Repeated <= 0.9 * each.Stream.Sequence.Counted)
            .ToArray();
        if (sent.Length > 0)
        {
            yield return Of("packets-sent-twice", Severity.Warning, sent) with
            {
                Text = $"{Names(sent)}: the sender itself sends {Words.Count(sent.Sum(each => each.Repeats.Of(RepeatKind.SentTwice)), "packet")} twice, "
                    + "which doubles the load and helps nobody.",
                Measured = "same sequence number and content, another IP identification, within 50 ms",
                Action = "Look for two outputs of the sender that carry the same universe.",
            };
        }
    }

    private static IEnumerable<Finding> TwoAddresses(Case[] all)
    {
        var twin = all.Where(each => each.Repeats.Of(RepeatKind.TwoAddresses) >= EnoughToJudge).ToArray();
        if (twin.Length > 0)
        {
            yield return Of("two-interfaces-one-network", Severity.Warning, twin) with
            {
                Text = $"{Names(twin)}: one sender sends everything from {Words.List(twin[0].Stream.Sender.Addresses)}: it has two network interfaces "
                    + "in this network.",
                Measured = Words.Count(twin.Sum(each => each.Repeats.Of(RepeatKind.TwoAddresses)), "packet") + " from a second address",
                Limit = "one interface in one network",
                Action = "Switch one of the interfaces off (often the radio), or choose one in the sender's settings.",
            };
        }
    }

    private static string Names(Case[] all) =>
        Words.List(all.Select(each => each.Universe.Id.Label).Distinct());

    private static Finding Of(string id, Severity severity, Case[] all) => new()
    {
        Id = id,
        Severity = severity,
        Subject = Names(all),
        Text = "",
        LimitSource = RuleBook.SourceOf(id),
        From = all.Min(each => each.Repeats.First),
        To = all.Max(each => each.Repeats.Last),
        FirstRecord = all.Min(each => each.Repeats.FirstRecord),
    };

    private sealed record Case(UniverseSummary Universe, StreamSummary Stream, RepeatSnapshot Repeats);
}
