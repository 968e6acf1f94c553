using DmxProbe.Analysis.Conformance;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.Sacn;

namespace DmxProbe.Analysis.Findings.Rules;

/// <summary>Readable sACN packets that break a rule of E1.31-2018.</summary>
internal sealed class SacnRulesRule : ISurveyRule
{
    public IEnumerable<Finding> Judge(SurveySnapshot snapshot)
    {
        foreach (EventCount seen in snapshot.Events.Where(each => each.Kind == LinkEventKind.SacnRule))
        {
            (string id, Severity severity, string what, string action) = Describe(seen);
            yield return new Finding
            {
                Id = id,
                Severity = severity,
                Subject = seen.Universe.Number == SacnAddressing.DiscoveryUniverse && seen.Sender is not null
                    ? Words.Name(seen.Sender)
                    : seen.Universe.Label,
                Text = (seen.Sender is null
                        ? "An sACN sender"
                        : seen.Universe.Number == SacnAddressing.DiscoveryUniverse
                            ? $"{Words.Name(seen.Sender)} with its universe discovery"
                            : $"{seen.Universe.Label} from {Words.Name(seen.Sender)}")
                    + $": {what} ({Words.Count(seen.Count, "packet")}).",
                Measured = Words.Count(seen.Count, "packet"),
                LimitSource = RuleBook.SourceOf(id),
                From = seen.First,
                To = seen.Last,
                FirstRecord = seen.FirstRecord,
                Action = action,
            };
        }
    }

    private static (string Id, Severity Severity, string What, string Action) Describe(EventCount seen) =>
        (SacnRule)seen.A switch
        {
            SacnRule.FlagsAndLength => (
                "sacn-flags-and-length",
                Severity.Info,
                "flags and length fields disagree with the size of the packet; most receivers do not mind",
                ""),
            SacnRule.Priority => (
                "sacn-priority-over-200",
                Severity.Warning,
                Words.Invariant($"priority {seen.B} is over 200, which shall not be sent; receivers differ in what they make of it"),
                "Set a priority between 0 and 200 at the sender."),
            SacnRule.Universe => (
                "sacn-reserved-universe",
                Severity.Warning,
                Words.Invariant($"universe {seen.B} is reserved; receivers cannot be set to it"),
                "Use universes 1 to 63999."),
            SacnRule.SourceName => (
                "sacn-name-unterminated",
                Severity.Info,
                "the source name does not end with a zero octet",
                ""),
            SacnRule.Group => (
                "sacn-wrong-group",
                Severity.Fault,
                seen.B == 0
                    ? "sent to a multicast group of no universe; receivers of this universe will not hear it"
                    : Words.Invariant($"sent to the group of universe {seen.B}; receivers of this universe will not hear it"),
                "The sender's software is at fault; unicast to the gateway helps until it is mended."),
            SacnRule.Discarded => (
                "sacn-discarded-by-receivers",
                Severity.Fault,
                Words.Invariant($"the field at octet {seen.B} has a value for which conforming receivers discard the packet"),
                "The sender's software is at fault; receivers that are not strict may still follow it."),
            SacnRule.Vector => (
                "sacn-unknown-vector",
                Severity.Info,
                Words.Invariant($"root and framing vector {seen.B >> 32:X8} {seen.B & 0xFFFFFFFF:X8} are none that the standard defines"),
                ""),
            SacnRule.Options => (
                "sacn-reserved-options",
                Severity.Info,
                Words.Invariant($"option bits are set that shall be 0 (octet {seen.B:X2}h); receivers ignore them"),
                ""),
            SacnRule.Reserved => (
                "sacn-reserved-octets",
                Severity.Info,
                "octets are set that shall be 0; receivers ignore them",
                ""),
            SacnRule.NameText => (
                "sacn-name-not-utf8",
                Severity.Info,
                "the source name is no UTF-8 text and shows wrongly",
                ""),
            SacnRule.Port => (
                "sacn-wrong-port",
                Severity.Fault,
                Words.Invariant($"multicast to UDP port {seen.B} instead of 5568; receivers will not hear it"),
                "Set the sender to port 5568."),
            SacnRule.Broadcast => (
                "sacn-broadcast",
                Severity.Info,
                "sent to a broadcast address, which the standard does not describe; receivers may or may not take it",
                "Set the sender to multicast or unicast."),
            SacnRule.MisreadGroup => (
                "sacn-misread-ipv6-group",
                Severity.Fault,
                "sent to an IPv6 group formed by a misreading of the standard; receivers of this universe will not hear it over IPv6",
                "The sender's software is at fault; use IPv4 until it is mended."),
            SacnRule.ListOrder => (
                "sacn-list-not-sorted",
                Severity.Info,
                "the universes of its discovery list are not in order",
                ""),
            SacnRule.Page => (
                "sacn-list-page",
                Severity.Warning,
                Words.Invariant($"page {seen.B} of its discovery list is beyond the last page it names; receivers cannot put the list together"),
                "The sender's software is at fault."),
            SacnRule.ListedUniverse => (
                "sacn-list-reserved-universe",
                Severity.Info,
                Words.Invariant($"its discovery list names universe {seen.B}, which is reserved"),
                ""),
            _ => (
                "sacn-sync-address",
                Severity.Warning,
                "synchronization packets with an address that shall not be sent; receivers ignore them",
                "Set a synchronization address of 1 to 63999, or switch synchronization off."),
        };
}
