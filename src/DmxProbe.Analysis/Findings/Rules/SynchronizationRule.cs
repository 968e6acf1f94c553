using DmxProbe.Analysis.Conformance;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;

namespace DmxProbe.Analysis.Findings.Rules;

/// <summary>sACN synchronization addresses with and without synchronization, and receivers that must stand still (E1.31-2018 6.2.4.1, 6.2.6, 11).</summary>
internal sealed class SynchronizationRule : ISurveyRule
{
    private const int EnoughToJudge = 3;

    public IEnumerable<Finding> Judge(SurveySnapshot snapshot) => snapshot.Synchronization.SelectMany(Judge);

    private static IEnumerable<Finding> Judge(SynchronizationSummary sync)
    {
        string universes = Universes(sync);
        string address = Words.Invariant($"synchronization address {sync.Address}");
        if (sync.FrozenFrames > 0)
        {
            yield return About(sync, "synchronization-frozen", Severity.Fault) with
            {
                Text = $"{universes}: synchronization on address "
                    + Words.Invariant($"{sync.Address} stopped while levels went on, so receivers that had synchronised stand still ")
                    + $"from 2.5 s later ({Words.Count(sync.FrozenFrames, "frame")} not acted on).",
                Subject = universes,
                Measured = "no synchronization for " + Words.Seconds(sync.FrozenTo - sync.FrozenFrom + ProtocolTimes.SacnLoss),
                Limit = Words.Seconds(ProtocolTimes.SacnLoss),
                From = sync.FrozenFrom,
                To = sync.FrozenTo,
                FirstRecord = sync.FrozenRecord,
                Action = "Start what sends the synchronization, or switch synchronization off at the sender of the levels.",
                Cautions = ["When synchronization comes back, lights jump to the newest levels: people clear of moving parts."],
            };
        }

        if (sync.ForcedFrames > 0)
        {
            yield return About(sync, "synchronization-stopped", Severity.Info) with
            {
                Text = $"{universes}: synchronization on address "
                    + Words.Invariant($"{sync.Address} stopped; the sender allows receivers to go on without it, each at its own moment."),
                Subject = universes,
                Measured = Words.Count(sync.ForcedFrames, "frame"),
                Action = "If looks should change together, start what sends the synchronization.",
            };
        }

        if (sync.Frames > 0 && sync.Packets == 0)
        {
            yield return About(sync, "synchronization-missing", Severity.Info) with
            {
                Text = $"{universes}: levels ask for {address}, and no synchronization packet for it is in this capture; receivers act "
                    + "at once, unless they got one before it began: then they stand still.",
                Measured = Words.Count(sync.Frames, "frame"),
                Action = "If lights stand still, start the synchronization or switch it off at the sender.",
                Cautions = ["When synchronization comes back, lights jump to the newest levels: people clear of moving parts."],
            };
        }

        if (sync.Packets > 0 && sync.Frames == 0)
        {
            yield return About(sync, "synchronization-unused", Severity.Info) with
            {
                Text = $"Packets come for {address}, and no levels in this capture ask for it.",
                Measured = Words.Count(sync.Packets, "packet"),
                Action = "Switch synchronization off, or set the sender of the levels to this address, if looks should change together.",
            };
        }

        if (sync.Disputes >= EnoughToJudge)
        {
            yield return About(sync, "synchronization-two-senders", Severity.Warning) with
            {
                Text = $"{Words.List(sync.Senders.Select(Words.Name))} all send for {address}; what receivers do then cannot be foretold.",
                Measured = Words.Count(sync.Disputes, "time"),
                Limit = "one sender",
                Action = "Give each sender a synchronization address of its own.",
            };
        }

        if (sync.Lost + sync.Discarded >= EnoughToJudge)
        {
            yield return About(sync, "synchronization-sequence", Severity.Info) with
            {
                Text = $"Packets for {address}: {Words.Count(sync.Lost, "packet")} missing and "
                    + $"{Words.Count(sync.Discarded, "packet")} repeated or out of order by their own count; looks come late or uneven.",
                Measured = Words.Invariant($"{sync.Lost} missing, {sync.Discarded} discarded of {sync.Packets} packets"),
                Action = "Look at the way from the sender of the synchronization: switches, radio, a second path.",
            };
        }
    }

    private static string Universes(SynchronizationSummary sync) =>
        Words.List(sync.Universes.Select(number => new UniverseId(UniverseProtocol.Sacn, number).Label));

    private static Finding About(SynchronizationSummary sync, string id, Severity severity) => new()
    {
        Id = id,
        Severity = severity,
        Subject = Words.Invariant($"synchronization address {sync.Address}"),
        Text = "",
        LimitSource = RuleBook.SourceOf(id),
        From = sync.First,
        To = sync.Last,
        FirstRecord = sync.FirstRecord,
    };
}
