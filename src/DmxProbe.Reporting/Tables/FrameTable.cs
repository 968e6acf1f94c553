using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Reporting.Tables;

/// <summary>The table <c>frames</c>: every frame of every START code as it arrived.</summary>
/// <param name="senders">Who sends.</param>
/// <param name="table">Where the rows go; not disposed.</param>
public sealed class FrameTable(SenderTable senders, TableWriter table) : IAnalyzer
{
    private readonly SenderNames _names = new(senders);

    /// <summary>The table.</summary>
    public static TableSpec Spec { get; } = new(
        "frames",
        "one frame of one sender on one universe, in the order of arrival",
        [
            .. TableWords.When,
            .. TableWords.Whose,
            new("startCode", ColumnKind.Whole, "START code, 0 to 255; 0 = levels"),
            new("sequence", ColumnKind.Whole, "sequence number as sent; none where the sender does not count"),
            new("priority", ColumnKind.Whole, "sACN priority as sent; none for other protocols"),
            new("syncAddress", ColumnKind.Whole, "sACN synchronization address; 0 = act at once; none for other protocols"),
            new("flags", ColumnKind.Text, "words, with spaces between: preview terminated forceSync draft ipv6 slotsCut damaged"),
            new("slotCount", ColumnKind.Whole, "slots behind the START code, 0 to 512"),
            new("slots", ColumnKind.Octets, "the slots, slot 1 first, one octet each"),
        ]);

    /// <inheritdoc/>
    public void OnFrame(in DmxFrame frame)
    {
        bool isSacn = frame.Universe.Protocol == UniverseProtocol.Sacn;
        TableWords.Moment(table, in frame);
        TableWords.Sender(table, frame.Universe, _names.Of(frame.Sender));
        table.Whole(frame.StartCode);
        table.Whole((frame.Flags & FrameFlags.SequenceCounted) != 0 ? frame.Sequence : null);
        table.Whole(isSacn ? frame.Priority : null);
        table.Whole(isSacn ? frame.SyncAddress : null);
        table.Text(Words(frame.Flags));
        table.Whole(frame.Slots.Length);
        table.Octets(frame.Slots);
        table.EndRow();
    }

    /// <inheritdoc/>
    public void OnEvent(in LinkEvent linkEvent) => _names.OnEvent(in linkEvent);

    /// <inheritdoc/>
    public void OnTime(Timestamp now)
    {
    }

    private static string Words(FrameFlags flags)
    {
        if (flags is FrameFlags.None or FrameFlags.SequenceCounted)
        {
            return "";
        }

        (FrameFlags Flag, string Word)[] words =
        [
            (FrameFlags.Preview, "preview"), (FrameFlags.Terminated, "terminated"), (FrameFlags.ForceSynchronization, "forceSync"),
            (FrameFlags.Draft, "draft"), (FrameFlags.Ipv6, "ipv6"), (FrameFlags.SlotsCut, "slotsCut"), (FrameFlags.Damaged, "damaged"),
        ];
        return string.Join(' ', words.Where(word => (flags & word.Flag) != 0).Select(word => word.Word));
    }
}
