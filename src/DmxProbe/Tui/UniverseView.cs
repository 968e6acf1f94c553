using System.Globalization;

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
    private const string Disputed = " ! changed within 1 s, : within 5 s; ? receivers differ, / another decides";
    private const string Plain = " ! changed within 1 s, : within 5 s; levels are 0 to 255";
    private static readonly Duration JustNow = Duration.FromSeconds(1);
    private static readonly Duration Lately = Duration.FromSeconds(5);

    /// <summary>Adds the rows of the view; keeps <see cref="ScreenState.Top"/> within them.</summary>
    public static void AddTo(List<ScreenRow> rows, RigPicture picture, ScreenState state, ScreenSheet sheet, int width, int room)
    {
        if (state.ChosenIn(picture) is not UniversePicture universe)
        {
            rows.Add(new ScreenRow(" No universe is heard."));
            return;
        }

        int above = rows.Count;
        IReadOnlyList<SenderPicture> senders = universe.InDetail?.Value ?? universe.Senders;
        if (senders.Count == 0)
        {
            rows.Add(new ScreenRow(RowTexts.Of($" {universe.Summary.Id.Label}")));
            rows.Add(new ScreenRow(" Nobody has sent it yet."));
            return;
        }

        state.Sender = Math.Clamp(state.Sender, 0, senders.Count - 1);
        SenderPicture sender = senders[state.Sender];
        rows.Add(new ScreenRow(ScreenSheet.NumberOf(universe.Summary.Id, picture) is int known
            ? RowTexts.Of($" {universe.Summary.Id.Label}, universe {known} of the sheet")
            : RowTexts.Of($" {universe.Summary.Id.Label}")));
        rows.Add(new ScreenRow(RowTexts.Cut(width, $" sent by {Printable.Text(sender.Name)} ({state.Sender + 1} of {senders.Count}), {(sender.Obeyed ? "obeyed" : "not obeyed")}")));
        rows.Add(new ScreenRow(RowTexts.Cut(width, $" START codes other than 0: {OtherCodes(universe)}")));
        if (sender.Recent is not RecentSnapshot recent)
        {
            rows.Add(new ScreenRow(sender.Stream.LevelFrames > 0 ? " This sender has gone silent." : " This sender has sent no levels."));
            return;
        }

        if (recent.Levels.Length < recent.SlotCount)
        {
            rows.Add(new ScreenRow(" One moment."));
            return;
        }

        IReadOnlyList<WinnerRange>? winners = universe.Winners;
        SenderPicture[] obeyed = winners is null ? [.. senders.Where(each => each.Obeyed)] : [];
        if (winners is null)
        {
            rows.Add(new ScreenRow(RowTexts.Cut(width, $" decided by: {string.Join(" or ", obeyed.Select(each => Printable.Text(each.Name)))}; slot by slot it changed too often to be kept up to here")));
        }
        else if (winners.Count > 0)
        {
            rows.Add(new ScreenRow(RowTexts.Cut(width, $" decided by: {Deciders(winners, senders)}")));
        }

        rows.Add(new ScreenRow(winners is null or { Count: > 0 } ? Disputed : Plain));
        Slotted now = new(picture.At, winners ?? [], sender.Stream.Sender.Index, obeyed.Length == 0 ? ' ' : !sender.Obeyed ? '/' : obeyed.Length > 1 ? '?' : ' ');
        AddSlots(rows, recent, sheet.UnitsOf(universe.Summary.Id, picture), now, state, width, Math.Max(1, room - (rows.Count - above)));
    }

    private static int NameWidth(int width) => width < Wide ? NarrowName : WideName;

    private static string OtherCodes(UniversePicture universe)
    {
        bool none = true;
        for (int stream = 0; stream < universe.Summary.Streams.Count; stream++)
        {
            for (int code = 0; code < universe.Summary.Streams[stream].StartCodes.Count; code++)
            {
                none &= universe.Summary.Streams[stream].StartCodes[code].Value == 0;
            }
        }

        if (none)
        {
            return "none";
        }

        string[] codes =
        [
            .. universe.Summary.Streams.SelectMany(stream => stream.StartCodes).Where(code => code.Value != 0)
                .GroupBy(code => code.Value).OrderBy(group => group.Key)
                .Select(group => string.Create(CultureInfo.InvariantCulture, $"{StartCode.Name((byte)group.Key)} {group.Sum(code => code.Count)} times")),
        ];
        return string.Join(", ", codes);
    }

    // Of all rows only those in sight are put together.
    private static void AddSlots(
        List<ScreenRow> rows, RecentSnapshot recent, IReadOnlyList<(PatchUnit Unit, int Slots)> units, Slotted now, ScreenState state, int width, int shown)
    {
        int perRow = Math.Max(1, (width - NameWidth(width) - 6) / SlotWidth);
        int count = 0;
        int place = -1;
        for (SlotSpans spans = new(units, recent.Levels.Length); spans.MoveNext();)
        {
            place = place < 0 && spans.Unit is PatchUnit unit && unit.Unit == state.Unit ? count : place;
            count += (spans.To - spans.From + perRow) / perRow;
        }

        if (state.Follow && state.Unit is not null && place >= 0)
        {
            state.Top = place < state.Top || place >= state.Top + shown - 1 ? Math.Max(0, place - 2) : state.Top;
        }

        state.Follow = false;
        state.Top = Math.Clamp(state.Top, 0, Math.Max(0, count - shown));
        int row = 0;
        for (SlotSpans spans = new(units, recent.Levels.Length); row < state.Top + shown && spans.MoveNext();)
        {
            for (int slot = spans.From; slot <= spans.To; slot += perRow, row++)
            {
                if (row >= state.Top && row < state.Top + shown)
                {
                    Tint tint = spans.Unit is PatchUnit unit && unit.Unit == state.Unit ? Tint.Chosen : Tint.Plain;
                    string name = slot > spans.From ? "" : spans.Unit is PatchUnit named ? Printable.Text(named.Unit) : units.Count == 0 ? "" : "no unit";
                    rows.Add(new ScreenRow(Row(recent, now, slot, Math.Min(spans.To, slot + perRow - 1), tint == Tint.Chosen && slot == spans.From, name, NameWidth(width)), tint) { Choice = spans.Choice });
                }
            }
        }
    }

    private static string Row(RecentSnapshot recent, Slotted now, int from, int to, bool chosen, string name, int nameWidth)
    {
        RowText text = new(0, 0);
        text.AppendFormatted(chosen ? '>' : ' ');
        text.AppendFormatted(Fitted.To(name, nameWidth - 1));
        text.AppendFormatted(from, 4);
        text.AppendFormatted(now.Mark(from, to));
        for (int slot = from; slot <= to; slot++)
        {
            if (slot > recent.Levels.Length)
            {
                text.AppendLiteral("  - ");
                continue;
            }

            text.AppendFormatted(recent.Levels[slot - 1], 3);
            text.AppendFormatted(Age(recent.Changed[slot - 1], now.At));
        }

        return RowTexts.Of(text);
    }

    // Ranges beside each other that are told in the same words are one.
    private static string Deciders(IReadOnlyList<WinnerRange> winners, IReadOnlyList<SenderPicture> senders)
    {
        if (winners.All(range => range.Cases[0].Senders.Count == 0))
        {
            return "nobody";
        }

        List<(int From, int To, string Who)> told = [];
        foreach (WinnerRange range in winners)
        {
            SlotCase most = range.Cases[0];
            string who = most.Senders.Count == 0 ? "nobody" : string.Join(most.IsDecided ? " with " : " or ", most.Senders.Select(sender => Printable.Text(Name(sender, senders))));
            if (told.Count > 0 && told[^1].Who == who && told[^1].To + 1 == range.FromSlot)
            {
                told[^1] = (told[^1].From, range.ToSlot, who);
            }
            else
            {
                told.Add((range.FromSlot, range.ToSlot, who));
            }
        }

        return string.Join("; ", told.Select(each => each.From == each.To ? RowTexts.Of($"slot {each.From} {each.Who}") : RowTexts.Of($"{each.From} to {each.To} {each.Who}")));
    }

    private static string Name(int index, IReadOnlyList<SenderPicture> senders) =>
        senders.FirstOrDefault(sender => sender.Stream.Sender.Index == index)?.Name ?? "another";

    // What a row of slots is drawn by: the moment, who decides which slots, and whose levels stand there.
    private readonly record struct Slotted(Timestamp At, IReadOnlyList<WinnerRange> Winners, int Sender, char All)
    {
        /// <summary>A mark for slots that the sender shown does not decide alone; a space where it does.</summary>
        public char Mark(int from, int to)
        {
            if (Winners.Count == 0)
            {
                return All;
            }

            char mark = ' ';
            for (int index = 0; index < Winners.Count; index++)
            {
                if (Winners[index].FromSlot > to || Winners[index].ToSlot < from)
                {
                    continue;
                }

                SlotCase most = Winners[index].Cases[0];
                if (!most.IsDecided)
                {
                    return '?';
                }

                mark = most.Senders.Contains(Sender) ? mark : '/';
            }

            return mark;
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
