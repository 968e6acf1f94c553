using DmxProbe.Analysis.Conformance;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;

namespace DmxProbe.Analysis.Findings.Rules;

/// <summary>Readable sACN packets that break a rule of E1.31-2018.</summary>
internal sealed class SacnRulesRule : ISurveyRule
{
    public IEnumerable<Finding> Judge(SurveySnapshot snapshot)
    {
        foreach (EventCount seen in snapshot.Events.Where(each => each.Kind == LinkEventKind.SacnRule))
        {
            (string id, Severity severity, string what, string clause, string action) = Describe(seen);
            yield return new Finding
            {
                Id = id,
                Severity = severity,
                Subject = seen.Universe.Label,
                Text = (seen.Sender is null
                        ? "An sACN sender"
                        : $"{seen.Universe.Label} from {Words.Name(seen.Sender)}")
                    + $": {what} ({Words.Count(seen.Count, "packet")}).",
                Measured = Words.Count(seen.Count, "packet"),
                LimitSource = "E1.31-2018 " + clause,
                From = seen.First,
                To = seen.Last,
                FirstRecord = seen.FirstRecord,
                Action = action,
            };
        }
    }

    private static (string Id, Severity Severity, string What, string Clause, string Action) Describe(EventCount seen) =>
        (SacnRule)seen.A switch
        {
            SacnRule.FlagsAndLength => (
                "sacn-flags-and-length",
                Severity.Info,
                "flags and length fields disagree with the size of the packet; most receivers do not mind",
                "5.4, 6.1, 7.1",
                ""),
            SacnRule.Priority => (
                "sacn-priority-over-200",
                Severity.Warning,
                Words.Invariant($"priority {seen.B} is over 200, which shall not be sent; receivers differ in what they make of it"),
                "6.2.3",
                "Set a priority between 0 and 200 at the sender."),
            SacnRule.Universe => (
                "sacn-reserved-universe",
                Severity.Warning,
                Words.Invariant($"universe {seen.B} is reserved; receivers cannot be set to it"),
                "9.1.1",
                "Use universes 1 to 63999."),
            SacnRule.SourceName => (
                "sacn-name-unterminated",
                Severity.Info,
                "the source name does not end with a zero octet",
                "6.2.2",
                ""),
            SacnRule.Group => (
                "sacn-wrong-group",
                Severity.Fault,
                seen.B == 0
                    ? "sent to a multicast group of no universe; receivers of this universe will not hear it"
                    : Words.Invariant($"sent to the group of universe {seen.B}; receivers of this universe will not hear it"),
                "9.3.1 and 9.3.2",
                "The sender's software is at fault; unicast to the gateway helps until it is mended."),
            SacnRule.Discarded => (
                "sacn-discarded-by-receivers",
                Severity.Fault,
                Words.Invariant($"the field at octet {seen.B} has a value for which conforming receivers discard the packet"),
                "5.1, 5.2, 7.2 to 7.5",
                "The sender's software is at fault; receivers that are not strict may still follow it."),
            SacnRule.Vector => (
                "sacn-unknown-vector",
                Severity.Info,
                Words.Invariant($"root and framing vector {seen.B >> 32:X8} {seen.B & 0xFFFFFFFF:X8} are none that the standard defines"),
                "5.5, 6.5",
                ""),
            _ => (
                "sacn-sync-address",
                Severity.Warning,
                "synchronization packets with an address that shall not be sent; receivers ignore them",
                "6.3.3.1",
                "Set a synchronization address of 1 to 63999, or switch synchronization off."),
        };
}
