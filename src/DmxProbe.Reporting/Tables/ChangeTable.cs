using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Reporting.Tables;

/// <summary>
/// The table <c>changes</c>: every change of a level (START code 0), slot by slot, for each sender by itself. The first frame
/// of a sender gives a row for each of its slots, so that the levels at any time can be built from the rows before it.
/// Frames that end a stream, and frames whose slots were cut or damaged, carry no levels.
/// </summary>
/// <param name="senders">Who sends.</param>
/// <param name="table">Where the rows go; not disposed.</param>
/// <param name="names">What the slots are called; null = nothing is known.</param>
public sealed class ChangeTable(
    SenderTable senders, TableWriter table, IReadOnlyDictionary<(UniverseId Universe, int Slot), SlotName>? names = null) : IAnalyzer
{
    private const FrameFlags NoLevels = FrameFlags.Terminated | FrameFlags.SlotsCut | FrameFlags.Damaged;
    private readonly SenderNames _senders = new(senders);
    private readonly List<byte[]?> _levels = [];

    /// <summary>The table.</summary>
    public static TableSpec Spec { get; } = new(
        "changes",
        "one slot that one sender began to send, changed, or left out",
        [
            .. TableWords.When,
            .. TableWords.Whose,
            new("slot", ColumnKind.Whole, "slot, 1 to 512"),
            new("before", ColumnKind.Whole, "level before, 0 to 255; none where the slot was not sent before"),
            new("after", ColumnKind.Whole, "level from now on; none where the slot is no longer sent"),
            new("unit", ColumnKind.Text, "unit there by the patch sheet; empty without a sheet or where nothing is patched"),
            new("function", ColumnKind.Text, "what the slot does by the unit's chart"),
        ]);

    /// <inheritdoc/>
    public void OnFrame(in DmxFrame frame)
    {
        if (frame.StartCode != 0 || (frame.Flags & NoLevels) != 0)
        {
            return;
        }

        while (_levels.Count <= frame.Stream)
        {
            _levels.Add(null);
        }

        byte[] before = _levels[frame.Stream] ?? [];
        if (frame.Slots.SequenceEqual(before))
        {
            return;
        }

        for (int slot = 0; slot < Math.Max(before.Length, frame.Slots.Length); slot++)
        {
            int? was = slot < before.Length ? before[slot] : null;
            int? now = slot < frame.Slots.Length ? frame.Slots[slot] : null;
            if (was != now)
            {
                Row(in frame, slot + 1, was, now);
            }
        }

        if (before.Length == frame.Slots.Length)
        {
            frame.Slots.CopyTo(before);
        }
        else
        {
            _levels[frame.Stream] = frame.Slots.ToArray();
        }
    }

    /// <inheritdoc/>
    public void OnEvent(in LinkEvent linkEvent) => _senders.OnEvent(in linkEvent);

    /// <inheritdoc/>
    public void OnTime(Timestamp now)
    {
    }

    private void Row(in DmxFrame frame, int slot, int? was, int? now)
    {
        SlotName? name = null;
        names?.TryGetValue((frame.Universe, slot), out name);
        TableWords.Moment(table, in frame);
        TableWords.Sender(table, frame.Universe, _senders.Of(frame.Sender));
        table.Whole(slot);
        table.Whole(was);
        table.Whole(now);
        table.Text(name?.Unit);
        table.Text(name?.Function);
        table.EndRow();
    }
}
