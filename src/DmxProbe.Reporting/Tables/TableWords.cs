using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Reporting.Tables;

/// <summary>Columns and cells that several tables share.</summary>
internal static class TableWords
{
    /// <summary>When, and on which record.</summary>
    public static readonly TableColumn[] When =
    [
        new("time", ColumnKind.Time, "arrival at the capture point, UTC; in Parquet whole microseconds since 1970-01-01 UTC, cut"),
        new("timeNs", ColumnKind.Whole, "the same in nanoseconds since 1970-01-01 00:00 UTC, exact"),
        new("record", ColumnKind.Whole, "number of the record in the input, from 1; with several inputs, in the merged order"),
    ];

    /// <summary>Which universe of whom.</summary>
    public static readonly TableColumn[] Whose =
    [
        new("protocol", ColumnKind.Text, "sacn, artnet, line or serial"),
        new("universe", ColumnKind.Whole, "sACN universe, Art-Net Port-Address, or number of a line or port from 0"),
        new("senderAddress", ColumnKind.Text, "address it was sent from; empty for a line or a port"),
        new("senderName", ColumnKind.Text, "name in its packets; untrusted"),
        new("senderCid", ColumnKind.Text, "CID of an sACN source; empty otherwise"),
    ];

    /// <summary>Writes the cells of <see cref="When"/>.</summary>
    public static void Moment(TableWriter table, in DmxFrame frame)
    {
        table.Time(frame.Time);
        table.Whole(frame.Time.UnixNanoseconds);
        table.Whole(frame.Record);
    }

    /// <summary>Writes the cells of <see cref="Whose"/>.</summary>
    public static void Sender(TableWriter table, UniverseId universe, SenderSummary sender)
    {
        table.Text(Json.JsonWords.Of(universe.Protocol));
        table.Whole(universe.Number);
        table.Text(sender.Address);
        table.Text(sender.Name);
        table.Text(sender.Cid);
    }

    /// <summary>A moment as a cell; the beginning of 1970 stands for none.</summary>
    public static Timestamp? OrNone(Timestamp time) => time == default ? null : time;
}
