using DmxProbe.Analysis.Compare;
using DmxProbe.Analysis.Compare.Links;
using DmxProbe.Cli.Text;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Html;
using DmxProbe.Reporting.Plots;

namespace DmxProbe.Cli;

/// <summary>Finds the inputs of a report that are two taps of one moment, and puts them side by side.</summary>
internal static class ReportLinks
{
    private const int MostLinks = 8;

    /// <summary>The links found: each input held against the one before it that explains it.</summary>
    /// <param name="read">The inputs, in the order given.</param>
    /// <param name="isOneClock">Whether all have one clock; null to decide by what is found.</param>
    public static IReadOnlyList<(ReportInput Near, ReportInput Far, LinkComparison Found)> Find(IReadOnlyList<ReportInput> read, bool? isOneClock)
    {
        List<(ReportInput, ReportInput, LinkComparison)> links = [];
        for (int far = 1; far < read.Count; far++)
        {
            foreach (ReportInput near in read.Take(far).Where(near => AreTaps(near, read[far])))
            {
                LinkComparison[] found = [.. LinkComparer.Compare(near.Timed.Tap!, read[far].Timed.Tap!, isOneClock).Where(link => link.Near is not null)];
                if (found.Length > 0)
                {
                    links.AddRange(found.Select(link => (near, read[far], link)));
                    break;
                }
            }
        }

        return [.. links.OrderBy(link => link.Item3.HasFaults ? 0 : 1).Take(MostLinks)];
    }

    /// <summary>What is left open about a link that is not sure.</summary>
    public static string Unsure((ReportInput Near, ReportInput Far, LinkComparison Found) link) =>
        $"Whether {link.Found.Far.Label} in {link.Far.Name} is {link.Found.Near?.Label} in {link.Near.Name} at the same moment: {Figures.Count(link.Found.ChangesPassed)} of {Figures.Count(link.Found.Changes, "change")} came out, too few to say how late it is or whether it froze";

    /// <summary>As the page shows them.</summary>
    public static IReadOnlyList<ReportLink> Of(IReadOnlyList<(ReportInput Near, ReportInput Far, LinkComparison Found)> links, WallClock clock) =>
    [
        .. links.Select(link => new ReportLink(
            link.Near.Name,
            link.Far.Name,
            link.Found,
            LinkText.Sentence(ByNearClock(link.Found), clock, (link.Near.Name, link.Far.Name)),
            LinkText.Rows(ByNearClock(link.Found), all: false, clock),
            link.Found.IsOrderInDoubt ? [] : LinkPicture.Draw(link.Found, link.Near.Timed.Tap!, link.Far.Timed.Tap!, (Path.GetFileName(link.Near.Name), Path.GetFileName(link.Far.Name)), clock.Time))),
    ];

    /// <summary>How much later than the near one the clock of each far input is; without recordings that have no date.</summary>
    public static Dictionary<string, Duration> Offsets(IReadOnlyList<(ReportInput Near, ReportInput Far, LinkComparison Found)> links) => links
        .Where(link => !link.Far.Timed.Tap!.HasSampleClock)
        .GroupBy(link => link.Far.Name)
        .ToDictionary(group => group.Key, group => group.MaxBy(link => link.Found.ChangesPassed).Found.Offset);

    /// <summary>By which clock the page tells times, in a sentence; none where there is one clock.</summary>
    public static IEnumerable<string> Clocks(IReadOnlyList<(ReportInput Near, ReportInput Far, LinkComparison Found)> links)
    {
        if (links.Count == 0)
        {
            yield break;
        }

        Dictionary<string, Duration> offsets = Offsets(links);
        IEnumerable<string> told = offsets.Where(each => each.Value != Duration.Zero).Select(each => each.Value > Duration.Zero
            ? $"; what is in {each.Key} is told {Figures.Time(each.Value)} earlier than its own clock says"
            : $"; what is in {each.Key} is told {Figures.Time(Duration.Zero - each.Value)} later than its own clock says");
        yield return $"Times on this page are by the clock of {string.Join(" and ", links.Select(link => link.Near.Name).Distinct())}{string.Concat(told)}";
    }

    // All times of the page are by the clock of the near input.
    private static LinkComparison ByNearClock(LinkComparison found) => found with
    {
        LongestFreeze = found.LongestFreeze is { } longest ? longest with { From = longest.From - found.Offset, To = longest.To - found.Offset } : null,
        Freezes = [.. found.Freezes.Select(freeze => freeze with { From = freeze.From - found.Offset, To = freeze.To - found.Offset })],
        Detours = [.. found.Detours.Select(detour => detour with { From = detour.From - found.Offset, To = detour.To - found.Offset })],
    };

    // Two captures of a network are two taps where they heard the same sender on the same universe in the same moment; two parts of one
    // night do not overlap, and two mirror ports hear other senders.
    private static bool AreTaps(ReportInput near, ReportInput far)
    {
        TapRecording one = near.Timed.Tap!;
        TapRecording other = far.Timed.Tap!;
        return one.HasSampleClock || other.HasSampleClock || other.HasLine || one.HasLine
            ? one.Streams.Count > 0 && other.Streams.Count > 0
            : near.Survey is { First: { } nearFirst, Last: { } nearLast } && far.Survey is { First: { } farFirst, Last: { } farLast }
                && nearFirst < farLast && farFirst < nearLast
                && other.Streams.Any(stream => one.Streams.Any(same => same.Universe == stream.Universe
                    && (same.Sender.Cid.Length > 0 ? same.Sender.Cid == stream.Sender.Cid : same.Sender.Address == stream.Sender.Address)));
    }
}
