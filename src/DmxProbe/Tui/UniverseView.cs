using System.Globalization;
using System.Text;

using DmxProbe.Analysis.Arbitration;
using DmxProbe.Analysis.Universes;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.Dmx512;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Text;

namespace DmxProbe.Tui;

/// <summary>
/// One universe as the sheet divides it: a unit begins a row of its own, slots between units stand under "no unit".
/// A slot that changed carries a mark: <c>!</c> within a second, <c>:</c> within five.
/// </summary>
internal static class UniverseView
{
    private const int NarrowName = 10;
    private const int WideName = 20;
    private const int Wide = 100;
    private const int SlotWidth = 4;
    private const int MostSlots = 512;
    private static readonly Duration JustNow = Duration.FromSeconds(1);
    private static readonly Duration Lately = Duration.FromSeconds(5);

    /// <summary>The rows of the view; keeps <see cref="ScreenState.Top"/> within them.</summary>
    public static IReadOnlyList<ScreenRow> Rows(RigPicture picture, ScreenState state, ScreenSheet sheet, int width, int room)
    {
        if (state.ChosenIn(picture) is not UniversePicture universe)
        {
            return [new ScreenRow(" No universe is heard.")];
        }

        IReadOnlyList<SenderPicture> senders = universe.InDetail?.Value ?? universe.Senders;
        if (senders.Count == 0)
        {
            return [new ScreenRow(" " + universe.Summary.Id.Label), new ScreenRow(" Nobody has sent it yet.")];
        }

        state.Sender = Math.Clamp(state.Sender, 0, senders.Count - 1);
        SenderPicture sender = senders[state.Sender];
        string number = ScreenSheet.NumberOf(universe.Summary.Id, picture) is int known
            ? string.Create(CultureInfo.InvariantCulture, $", universe {known} of the sheet")
            : "";
        List<ScreenRow> rows =
        [
            new(" " + universe.Summary.Id.Label + number),
            new(Wrapped.Cut($" sent by {Printable.Text(sender.Name)} ({state.Sender + 1} of {senders.Count}), {(sender.Obeyed ? "obeyed" : "not obeyed")}", width)),
            new(Wrapped.Cut(" START codes other than 0: " + OtherCodes(universe), width)),
        ];
        if (sender.Recent is not RecentSnapshot recent)
        {
            rows.Add(new ScreenRow(sender.Stream.LevelFrames > 0 ? " This sender has gone silent." : " This sender has sent no levels."));
            return rows;
        }

        if (recent.Levels.Length < recent.SlotCount)
        {
            rows.Add(new ScreenRow(" One moment."));
            return rows;
        }

        // Of a recording only the end is known slot by slot.
        IReadOnlyList<WinnerRange> winners = picture.IsReview ? [] : universe.Summary.Arbitration?.Winners ?? [];
        if (winners.Count > 0)
        {
            rows.Add(new ScreenRow(Wrapped.Cut(" decided by: " + Deciders(winners, senders), width)));
        }

        rows.Add(new ScreenRow(" ! changed within 1 s, : within 5 s" + (winners.Count > 0 ? "; ? receivers differ, / another sender decides" : "; levels are 0 to 255")));
        List<(ScreenRow Row, string? Unit)> slots = Slots(recent, sheet.UnitsOf(universe.Summary.Id, picture), new Slotted(picture.At, winners, sender.Stream.Sender.Index), state.Unit, width);
        int shown = Math.Max(1, room - rows.Count);
        if (state.Follow && state.Unit is not null && slots.FindIndex(row => row.Unit == state.Unit) is >= 0 and int place)
        {
            state.Top = place < state.Top || place >= state.Top + shown - 1 ? Math.Max(0, place - 2) : state.Top;
        }

        state.Follow = false;
        state.Top = Math.Clamp(state.Top, 0, Math.Max(0, slots.Count - shown));
        rows.AddRange(slots.Skip(state.Top).Take(shown).Select(row => row.Row));
        return rows;
    }

    private static int NameWidth(int width) => width < Wide ? NarrowName : WideName;

    private static string OtherCodes(UniversePicture universe)
    {
        string[] codes =
        [
            .. universe.Summary.Streams.SelectMany(stream => stream.StartCodes).Where(code => code.Value != 0)
                .GroupBy(code => code.Value).OrderBy(group => group.Key)
                .Select(group => string.Create(CultureInfo.InvariantCulture, $"{StartCode.Name((byte)group.Key)} {group.Sum(code => code.Count)} times")),
        ];
        return codes.Length == 0 ? "none" : string.Join(", ", codes);
    }

    private static List<(ScreenRow Row, string? Unit)> Slots(
        RecentSnapshot recent, IReadOnlyList<(PatchUnit Unit, int Slots)> units, Slotted now, string? jumped, int width)
    {
        List<(ScreenRow Row, string? Unit)> rows = [];
        int perRow = Math.Max(1, (width - NameWidth(width) - 6) / SlotWidth);
        int next = 1;
        int place = 0;
        foreach ((PatchUnit unit, int count) in units)
        {
            place++;
            if (unit.Address > next)
            {
                Span(rows, recent, now, next, unit.Address - 1, "no unit", null, 0, perRow, NameWidth(width), Tint.Plain);
            }

            Span(rows, recent, now, unit.Address, Math.Min(MostSlots, unit.Address + count - 1), Printable.Text(unit.Unit), unit.Unit, place, perRow, NameWidth(width),
                unit.Unit == jumped ? Tint.Chosen : Tint.Plain);
            next = Math.Max(next, unit.Address + count);
        }

        Span(rows, recent, now, next, recent.Levels.Length, units.Count == 0 ? "" : "no unit", null, 0, perRow, NameWidth(width), Tint.Plain);
        return rows;
    }

    private static void Span(
        List<(ScreenRow Row, string? Unit)> rows, RecentSnapshot recent, Slotted now, int from, int to, string name, string? unit, int choice, int perRow, int nameWidth, Tint tint)
    {
        for (int slot = from; slot <= to; slot += perRow)
        {
            StringBuilder text = new();
            text.Append(tint == Tint.Chosen && slot == from ? '>' : ' ')
                .Append(Wrapped.Fit(slot == from ? name : "", nameWidth - 1))
                .Append(CultureInfo.InvariantCulture, $"{slot,4}{now.Mark(slot, Math.Min(to, slot + perRow - 1))}");
            for (int each = slot; each < slot + perRow && each <= to; each++)
            {
                if (each > recent.Levels.Length)
                {
                    text.Append("  - ");
                    continue;
                }

                text.Append(CultureInfo.InvariantCulture, $"{recent.Levels[each - 1],3}").Append(Age(recent.Changed[each - 1], now.At));
            }

            rows.Add((new ScreenRow(text.ToString(), tint) { Choice = choice }, slot == from ? unit : null));
        }
    }

    private static string Deciders(IReadOnlyList<WinnerRange> winners, IReadOnlyList<SenderPicture> senders)
    {
        string name(int index) => senders.FirstOrDefault(sender => sender.Stream.Sender.Index == index)?.Name ?? "another";
        return string.Join("; ", winners.Select(range =>
        {
            SlotCase most = range.Cases[0];
            string who = most.Senders.Count == 0 ? "nobody" : string.Join(most.IsDecided ? " with " : " or ", most.Senders.Select(sender => Printable.Text(name(sender))));
            return string.Create(CultureInfo.InvariantCulture, $"{range.FromSlot} to {range.ToSlot} {who}");
        }));
    }

    // What a row of slots is drawn by: the moment, who decides which slots, and whose levels stand there.
    private readonly record struct Slotted(Timestamp At, IReadOnlyList<WinnerRange> Winners, int Sender)
    {
        /// <summary>A mark for slots that the sender shown does not decide alone; a space where it does.</summary>
        public char Mark(int from, int to)
        {
            int sender = Sender;
            SlotCase[] cases = [.. Winners.Where(range => range.FromSlot <= to && range.ToSlot >= from).Select(range => range.Cases[0])];
            return Array.Exists(cases, each => !each.IsDecided) ? '?' : Array.Exists(cases, each => !each.Senders.Contains(sender)) ? '/' : ' ';
        }
    }

    private static char Age(long changed, Timestamp now)
    {
        if (changed == long.MinValue)
        {
            return ' ';
        }

        Duration age = now - Timestamp.FromUnixNanoseconds(changed);
        return age <= JustNow ? '!' : age <= Lately ? ':' : ' ';
    }
}
