using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Tables;

namespace DmxProbe.Reporting.Tests.Tables;

/// <summary>A small table with every kind of cell, and every kind of trouble in its texts.</summary>
internal static class Filled
{
    /// <summary>Nanoseconds of a moment that microseconds cannot hold.</summary>
    public const long Moment = 1_773_517_260_007_692_103;

    /// <summary>Texts that break naive writers.</summary>
    public static readonly string[] Texts =
        ["plain", "comma, and \"quotes\"", "two\r\nlines", "=SUM(A1)", "\u001b[2J", "Bühne \u202elinks", "", "-1", "\ud83d\ude00 and half \ud83d"];

    /// <summary>The table.</summary>
    public static TableSpec Spec { get; } = new(
        "test",
        "a row",
        [
            new("name", ColumnKind.Text, "a name"),
            new("count", ColumnKind.Whole, "a count"),
            new("level", ColumnKind.Figure, "a level"),
            new("time", ColumnKind.Time, "a time"),
            new("slots", ColumnKind.Octets, "slots"),
        ]);

    /// <summary>Fills it: one row for each text, then ends it.</summary>
    public static void Fill(TableWriter table)
    {
        for (int row = 0; row < Texts.Length; row++)
        {
            table.Text(Texts[row]);
            table.Whole(row == 0 ? null : long.MinValue + row);
            table.Figure(row == 0 ? double.NaN : row / 3.0);
            table.Time(row == 0 ? null : Timestamp.FromUnixNanoseconds(row == 1 ? -1 : Moment));
            table.Octets([0, (byte)row, 255]);
            table.EndRow();
        }

        table.Finish();
    }
}
