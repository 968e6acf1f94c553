using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Rdm;
using DmxProbe.Analysis.Survey;

namespace DmxProbe.Analysis.Findings.Rules;

/// <summary>How RDM passes: answers that are late or missing, damaged messages, tables that change, levels that starve.</summary>
internal sealed class RdmTrafficRule : ISurveyRule
{
    private const string Secondary = "ANSI E1.20, known from secondary sources";
    private const string CommonPractice = "common practice, no source";
    private const double Starved = 0.8;
    private const double Loss = 1;
    private const int FewestShort = 3;

    public IEnumerable<Finding> Judge(SurveySnapshot snapshot)
    {
        if (snapshot.Rdm is not RdmSnapshot rdm)
        {
            return [];
        }

        return
        [
            .. rdm.Ports.SelectMany(Levels),
            .. rdm.Devices.SelectMany(Answers),
            .. rdm.Ports.SelectMany(port => Silence(port, rdm.Devices)),
            .. rdm.Ports.SelectMany(Damage),
            .. rdm.Ports.SelectMany(port => Tables(port, rdm.Devices)),
        ];
    }

    private static Finding About(RdmPort port, RdmSpan? seen, string id, Severity severity, string text) => new()
    {
        Id = id,
        Severity = severity,
        Subject = port.Universe.Label,
        Text = text,
        From = seen?.From ?? port.First,
        To = seen?.To ?? port.Last,
        FirstRecord = seen?.FirstRecord ?? port.FirstRecord,
    };

    private static IEnumerable<Finding> Levels(RdmPort port)
    {
        if (port.Share is not RdmShare share)
        {
            yield break;
        }

        bool lost = share.LongestGap.TotalSeconds > Loss;
        if (share is { QuietHz: double quiet, PolledHz: double polled } && polled < Starved * quiet)
        {
            yield return About(
                port,
                null,
                "levels-starved-by-rdm",
                lost ? Severity.Fault : Severity.Warning,
                Words.Invariant($"{port.Universe.Label}: levels come {polled:0.0} times a second while RDM is on the line and {quiet:0.0} times otherwise; moves and fades stutter meanwhile.")) with
            {
                Measured = Words.Invariant($"{polled:0.0} Hz against {quiet:0.0} Hz; longest time without levels {share.LongestGap.TotalMilliseconds:0} ms; {Words.Count(share.RdmFrames, "RDM packet")} beside {Words.Count(share.LevelFrames, "packet")} of levels"),
                Limit = "a drop of 20 %",
                LimitSource = CommonPractice,
                Action = "Let the RDM controller search and poll at set-up only, or more slowly.",
            };
        }
        else if (lost)
        {
            yield return About(
                port,
                null,
                "levels-starved-by-rdm",
                Severity.Fault,
                $"{port.Universe.Label}: for {Words.Seconds(share.LongestGap)} only RDM was sent and no levels: receivers may take that for a lost signal.") with
            {
                Measured = $"{Words.Seconds(share.LongestGap)} without levels",
                Limit = "1 s",
                LimitSource = "ANSI E1.11, from memory, not confirmed",
                Action = "Let the RDM controller search and poll at set-up only, or more slowly.",
                From = share.GapFrom,
                To = share.GapFrom + share.LongestGap,
            };
        }

        if (share.ShortBeforeRdm >= FewestShort)
        {
            yield return About(
                port,
                share.ShortSeen,
                "levels-cut-short-for-rdm",
                Severity.Warning,
                Words.Invariant($"{port.Universe.Label}: {Words.Count(share.ShortBeforeRdm, "packet")} of levels right before RDM had less than half of the usual {share.UsualSlots} slots: units with high addresses are not refreshed, and some receivers blink.")) with
            {
                Measured = Words.Count(share.ShortBeforeRdm, "short packet"),
                Limit = "half of the usual slots",
                LimitSource = CommonPractice,
                Action = "The sender makes room for RDM by cutting levels; ask its maker for another setting, or keep RDM to set-up.",
            };
        }
    }

    private static IEnumerable<Finding> Answers(RdmDevice device)
    {
        if (device.Late > 0)
        {
            yield return RdmRule.About(
                device,
                device.LateFrom,
                "rdm-answers-late",
                Severity.Warning,
                Words.Invariant($"{device.Universe.Label}: the RDM device {device.Name} began {Words.Count(device.Late, "answer")} later than a responder may; controllers take it for missing or talk over it.")) with
            {
                Measured = Words.Invariant($"slowest {(device.Slowest?.TotalMilliseconds ?? 0):0.00} ms after the request, {Words.Count(device.Answers, "answer")} in all"),
                Limit = "2.0 ms",
                LimitSource = Secondary,
                Action = "Look for splitters or radio links in its line, which add their own delay; else its software is at fault.",
            };
        }

        // One lost packet is nobody's fault.
        if (device.Unanswered >= 2 && device.Answers > 0)
        {
            yield return RdmRule.About(
                device,
                device.UnansweredFrom,
                "rdm-answers-missing",
                Severity.Warning,
                $"{device.Universe.Label}: the RDM device {device.Name} left {Words.Count(device.Unanswered, "request")} of {device.Requests} unanswered.") with
            {
                Measured = $"{Words.Count(device.Answers, "answer")} to {Words.Count(device.Requests, "request")}",
                Action = "Look at the termination at both ends of its line, and at splitters: RDM needs ones that pass both ways.",
            };
        }
    }

    private static IEnumerable<Finding> Silence(RdmPort port, IReadOnlyList<RdmDevice> devices)
    {
        RdmDevice[] silent = [.. devices.Where(device => device.Universe == port.Universe && device is { Answers: 0, Unanswered: >= 2 })];
        if (silent.Length == 0)
        {
            yield break;
        }

        bool all = port.Answers == 0;
        bool isLine = port.Universe.Protocol != UniverseProtocol.ArtNet;
        yield return About(
            port,
            silent.Aggregate((RdmSpan?)null, (span, device) => RdmSpan.Over(span, device.UnansweredFrom)),
            all ? "rdm-no-answers" : "rdm-device-silent",
            Severity.Warning,
            all
                ? $"{port.Universe.Label}: {Words.Count(port.Requests, "RDM request")} and not one answer: "
                    + (isLine ? "the way back is cut, by a splitter that passes one way or a line without termination." : "the answers do not pass this capture point, or nobody is there.")
                : $"{port.Universe.Label}: {Words.List(silent.Select(device => device.Name))} answered no RDM request at all.") with
        {
            Measured = $"{Words.Count(silent.Sum(device => device.Unanswered), "request")} without an answer",
            Action = "Look whether it is on and on this line; then at the termination and at splitters.",
        };
    }

    // On a line the rule of the line itself says it.
    private static IEnumerable<Finding> Damage(RdmPort port)
    {
        if (port.Damaged > 0 && port.Universe.Protocol != UniverseProtocol.Line)
        {
            yield return About(
                port,
                port.DamagedFrom,
                "rdm-damaged",
                Severity.Warning,
                $"{port.Universe.Label}: {Words.Count(port.Damaged, "RDM message")} with a wrong length or checksum: two talk at once on the line behind the gateway, or it is disturbed.") with
            {
                Measured = Words.Count(port.Damaged, "message"),
                Action = "Look at the termination at both ends, at splitters, and for a second device with the same UID.",
            };
        }
    }

    private static IEnumerable<Finding> Tables(RdmPort port, IReadOnlyList<RdmDevice> devices)
    {
        RdmDevice[] unsteady = [.. devices.Where(device => device.Universe == port.Universe && device.Returned > 0)];
        RdmDevice[] gone = [.. devices.Where(device => device.Universe == port.Universe && device.Vanished > device.Returned)];
        if (unsteady.Length > 0)
        {
            yield return About(
                port,
                unsteady.Aggregate((RdmSpan?)null, (span, device) => RdmSpan.Over(span, device.TableMoves)),
                "rdm-table-unsteady",
                Severity.Warning,
                $"{port.Universe.Label}: the gateway's table of RDM devices keeps changing: {Words.List(unsteady.Select(device => device.Name))} left it and came back.") with
            {
                Measured = $"{Words.Count(port.TableChanges, "change")} in {Words.Count(port.Tables, "table")}",
                Action = "Look at that unit's connector and at the termination; two devices with one UID do the same.",
            };
        }

        if (gone.Length > 0)
        {
            yield return About(
                port,
                gone.Aggregate((RdmSpan?)null, (span, device) => RdmSpan.Over(span, device.TableMoves)),
                "rdm-device-gone",
                Severity.Warning,
                $"{port.Universe.Label}: {Words.List(gone.Select(device => device.Name))} left the gateway's table of RDM devices and did not come back.") with
            {
                Measured = $"{Words.Count(port.TableChanges, "change")} in {Words.Count(port.Tables, "table")}",
                Action = "Look whether it lost power or its cable.",
            };
        }
    }
}
