using DmxProbe.Analysis.Conformance;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;

namespace DmxProbe.Analysis.Findings.Rules;

/// <summary>What a serial port reported besides packets: framing errors, lost octets, octets that are no packet.</summary>
internal sealed class SerialQualityRule : ISurveyRule
{
    // Shares of framing errors: common practice, no source.
    private const double Bad = 1e-4;
    private const int EnoughToJudge = 3;
    private const int MostPlaces = 4;

    public IEnumerable<Finding> Judge(SurveySnapshot snapshot)
    {
        foreach (IGrouping<UniverseId, EventCount> port in snapshot.Events
            .Where(each => each.Universe.Protocol == UniverseProtocol.Serial)
            .GroupBy(each => each.Universe))
        {
            EventCount[] events = [.. port];
            UniverseSummary? universe = snapshot.Universes.FirstOrDefault(each => each.Id == port.Key);
            string who = events[0].Sender is SenderSummary sender ? $"{port.Key.Label} at {Words.Name(sender)}" : port.Key.Label;
            foreach (Finding finding in FramingErrors(who, events, universe).Concat(Others(who, events, universe)))
            {
                yield return finding with { Subject = port.Key.Label };
            }
        }
    }

    private static IEnumerable<Finding> FramingErrors(string who, EventCount[] events, UniverseSummary? universe)
    {
        EventCount[] errors = [.. events.Where(each => each.Kind == LinkEventKind.SlotFramingError).OrderByDescending(each => each.Count)];
        long count = errors.Sum(each => each.Count);
        if (count == 0)
        {
            yield break;
        }

        int usual = universe?.SlotCounts is { Count: > 0 } counts ? counts.MaxBy(each => each.Count).Value : 512;
        double octets = Math.Max((double)(universe?.Frames ?? 0) * (usual + 1), count);
        double share = count / octets;
        string places = Words.List(errors.Take(MostPlaces).Select(each => Words.Invariant($"{Place(each.A)} ({each.Count:N0})")));
        string more = errors.Length > MostPlaces ? $" and {Words.Count(errors.Length - MostPlaces, "other place")}" : "";
        yield return Of(
            "framing-errors",
            share > Bad && count >= EnoughToJudge ? Severity.Fault : Severity.Warning,
            $"{who}: {Words.Count(count, "framing error")}, at {places}{more}; the levels of those packets are left out.",
            errors,
            "Check termination, cable and connectors of this line; compare its start with its far end.") with
        {
            Measured = Words.Invariant($"{share:0.0e+0} of {octets:N0} octets"),
            Limit = "none in 60 s is good, 1 in 10,000 is bad",
            LimitSource = "common practice, no source",
        };
    }

    private static IEnumerable<Finding> Others(string who, EventCount[] events, UniverseSummary? universe)
    {
        long frames = universe?.Frames ?? 0;
        foreach (IGrouping<LinkEventKind, EventCount> kind in events.GroupBy(each => each.Kind))
        {
            EventCount[] same = [.. kind];
            long count = same.Sum(each => each.Count);
            long octets = same.Sum(each => each.SumOfA);
            Finding? finding = kind.Key switch
            {
                LinkEventKind.SerialOverrun => Of(
                    "serial-overrun",
                    Severity.Warning,
                    $"{who}: the port or its driver lost octets {Words.Count(count, "time")}; that is this computer's loss, not the line's.",
                    same,
                    "Plug the adapter in directly, close other programs, or use another adapter."),
                LinkEventKind.FramedDamage => Of(
                    "interface-lost-octets",
                    Severity.Warning,
                    $"{who}: the interface says of {Words.Count(count, "packet")} that it lost octets; their levels are left out.",
                    same,
                    "Check the line for framing errors; if there are none, the interface is too slow."),
                LinkEventKind.SlotsOver512 => Of(
                    "more-than-512-slots",
                    Severity.Warning,
                    $"{who}: {Words.Count(count, "packet")} with more than 512 slots; receivers may take what follows slot 512 for something else.",
                    same,
                    "Look at what sends on this line."),
                LinkEventKind.EmptyBreak => Of(
                    "empty-breaks",
                    Severity.Warning,
                    $"{who}: {Words.Count(count, "break")} with nothing behind it.",
                    same,
                    "An open or shorted line, a reversed pair or two transmitters can look so: record the line with a logic recorder."),
                LinkEventKind.ChangeWithoutPacket => Of(
                    "changes-without-packet",
                    Severity.Info,
                    $"{who}: {Words.Count(count, "message")} told changes before any whole packet came; the other slots were not known.",
                    same,
                    frames > 0 ? "" : "If the interface only ever sends changes, set from=zero (docs/serial.md)."),
                LinkEventKind.SerialGarbage when frames == 0 => Of(
                    "no-packet-found",
                    Severity.Warning,
                    $"{who}: {Words.Count(octets, "octet")} came and no packet was found in them.",
                    same,
                    "Check that this is the right kind of input for the adapter (framed or uart), and that this system marks breaks."),
                LinkEventKind.SerialGarbage => Of(
                    "stray-octets",
                    Severity.Info,
                    $"{who}: {Words.Count(octets, "octet")} are part of no packet.",
                    same,
                    ""),
                LinkEventKind.FramedOther when frames == 0 => Of(
                    "no-dmx-label",
                    Severity.Warning,
                    $"{who}: messages came, but none with a label that carries DMX; seen: "
                    + Words.List(same.OrderByDescending(each => each.Count).Select(each => Words.Invariant($"label {each.A} ({each.Count:N0})"))) + ".",
                    same,
                    "Set the label that this interface uses (docs/serial.md)."),
                _ => null,
            };
            if (finding is not null)
            {
                yield return finding;
            }
        }
    }

    private static string Place(long place) => place == 0 ? "the START code" : place > 512 ? "past slot 512" : $"slot {place}";

    private static Finding Of(string id, Severity severity, string text, EventCount[] events, string action) => new()
    {
        Id = id,
        Severity = severity,
        Subject = "",
        Text = text,
        From = events.Min(each => each.First),
        To = events.Max(each => each.Last),
        FirstRecord = events.Min(each => each.FirstRecord),
        Action = action,
    };
}
