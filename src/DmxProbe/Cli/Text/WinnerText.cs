using System.Globalization;

using DmxProbe.Analysis.Arbitration;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;

namespace DmxProbe.Cli.Text;

/// <summary>Who decides which slots of a universe, and how that changed, where the universe as a whole does not say it.</summary>
internal static class WinnerText
{
    private const int MostRows = 8;

    /// <summary>Writes what there is to say; nothing where the universe as a whole says it all.</summary>
    public static void Write(TextPage page, UniverseSummary universe, SenderWords names, WallClock clock, bool all)
    {
        if (universe.Arbitration is not { } found)
        {
            return;
        }

        int most = all ? int.MaxValue : MostRows;
        SlotNarrator narrator = new(sender => names[sender], clock.Time);
        if (IsBySlot(universe, found))
        {
            WinnerRange[] ranges = [.. found.Winners.Where(range => range.Cases[0].Rule != WinRule.Nobody)];
            if (ranges.Length > 0)
            {
                page.Paragraph("Slot by slot at the end:", indent: 2);
            }

            foreach (WinnerRange range in ranges.Take(most))
            {
                page.Labelled(Slots(range.FromSlot, range.ToSlot), Who(range, found, narrator), 0, indent: 4);
            }

            More(page, ranges.Length - most, "more range");
            WinnerChange[] changes = [.. found.Changes.Where(change => change.Condition != WinCondition.WholeUniverse)];
            if (changes.Length > 0)
            {
                page.Paragraph("Changes of who decides:", indent: 2);
                foreach (WinnerChange change in changes.Take(most))
                {
                    string receiver = change.Condition == WinCondition.Always ? "" : SlotNarrator.Receiver(change.Condition, found.HasAddressPriority) + ", ";
                    page.Labelled(clock.Time(change.Time), $"{Slots(change.FromSlot, change.ToSlot)}: {receiver}from {narrator.Names(change.Before)} to {narrator.Names(change.After)}: {narrator.Cause(change.Cause, change.CausedBy)}", 0, indent: 4);
                }

                More(page, changes.Length - most, "more change");
            }

            if (found.ChangesNotListed > 0)
            {
                page.Paragraph($"and {Figures.Count(found.ChangesNotListed, "further change")}, counted and not kept", indent: 4);
            }
        }

        Sync(page, found, clock);
    }

    // Packet priority alone is said by the spans above; levels that cross in a merge, per-address priority and short packets are not.
    private static bool IsBySlot(UniverseSummary universe, UniverseArbitration found) =>
        universe.Streams.Count > 1
        && (found.HasAddressPriority
            || (universe.Id.Protocol == UniverseProtocol.ArtNet && found.Changes.Count > 0)
            || found.Winners.Count(range => range.Cases[0].Senders.Count > 0) > 1
            || found.Winners.Any(range => range.Cases.Count > 1));

    private static string Who(WinnerRange range, UniverseArbitration found, SlotNarrator narrator) => string.Join("; ", range.Cases.Select(each =>
        (each.Condition == WinCondition.Always ? "" : SlotNarrator.Receiver(each.Condition, found.HasAddressPriority) + ": ") + narrator.Who(each, [])));

    private static string Slots(int from, int to) => from == to
        ? string.Create(CultureInfo.InvariantCulture, $"slot {from}")
        : string.Create(CultureInfo.InvariantCulture, $"slots {from} to {to}");

    private static void Sync(TextPage page, UniverseArbitration found, WallClock clock)
    {
        if (found.Sync == SyncState.None)
        {
            return;
        }

        string what = found.SyncAddress > 0 ? string.Create(CultureInfo.InvariantCulture, $"synchronization address {found.SyncAddress}") : "ArtSync";
        string last = found.LastSync is { } time ? $", last heard at {clock.Time(time)}" : "";
        page.Paragraph(
            found.Sync == SyncState.Frozen
                ? $"Frozen at the end for receivers that know synchronization: levels arrive, {what} does not{last}, and Force_Synchronization is 0 (E1.31-2018 6.2.6, 11.1.2)."
                : $"Held at the end until the next packet of {what}{last}.",
            indent: 2,
            tone: found.Sync == SyncState.Frozen ? Tone.Fault : Tone.Plain);
    }

    private static void More(TextPage page, int left, string what)
    {
        if (left > 0)
        {
            page.Paragraph($"and {Figures.Count(left, what)} (--all shows those kept)", indent: 4);
        }
    }
}
