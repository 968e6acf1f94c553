using System.Data.Common;
using System.Globalization;

using DmxProbe.Reporting.Tables;

using DuckDB.NET.Data;

namespace DmxProbe.Reporting.Tests.Tables;

/// <summary>Parquet read by DuckDB, which shares no code with the library we write with.</summary>
public sealed class ParquetTableWriterTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("dmxprobe-test-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void DuckDB_reads_every_cell_back()
    {
        string file = Written(Filled.Fill);
        List<object?[]> rows = Ask($"select name, count, level, time, slots from '{file}'");
        Assert.Equal(Filled.Texts.Length, rows.Count);
        Assert.Equal(Filled.Texts[..8], rows[..8].Select(row => row[0]));
        Assert.Null(rows[0][1]);
        Assert.Null(rows[0][2]);
        Assert.Null(rows[0][3]);
        Assert.Equal(long.MinValue + 2, rows[2][1]);
        Assert.Equal(2 / 3.0, rows[2][2]);
    }

    [Fact]
    public void Times_are_cut_to_microseconds_towards_the_past()
    {
        string file = Written(Filled.Fill);
        List<object?[]> rows = Ask($"select time from '{file}' where time is not null");
        Assert.Equal(-1L, rows[0][0]);
        Assert.Equal(Filled.Moment / 1000, rows[1][0]);

        // A filter goes by the bounds in the file.
        Assert.Equal(Filled.Texts.Length - 2L, Ask($"select count(*) from '{file}' where time > 0")[0][0]);
        Assert.Equal(1L, Ask($"select count(*) from '{file}' where make_timestamp(time) < timestamp '1970-01-01'")[0][0]);
    }

    [Fact]
    public void Octets_are_a_blob() =>
        Assert.Equal("0008FF", Ask($"select hex(slots) from '{Written(Filled.Fill)}'")[8][0]);

    [Fact]
    public void A_long_table_goes_out_in_groups()
    {
        const int Rows = 150_000;
        string file = Written(table =>
        {
            for (int row = 0; row < Rows; row++)
            {
                table.Text("x");
                table.Whole(row);
                table.Figure(null);
                table.Time(null);
                table.Octets([]);
                table.EndRow();
            }

            table.Finish();
        });
        object?[] sums = Ask($"select count(*), sum(count)::bigint, min(count), max(count) from '{file}'")[0];
        Assert.Equal([(long)Rows, (long)Rows * (Rows - 1) / 2, 0L, Rows - 1L], sums);
        Assert.Equal(3L, Ask($"select count(distinct row_group_id) from parquet_metadata('{file}')")[0][0]);
    }

    [Fact]
    public void A_table_without_rows_has_its_columns()
    {
        string file = Written(table => table.Finish());
        Assert.Equal(0L, Ask($"select count(*) from '{file}'")[0][0]);
        Assert.Equal(["name", "count", "level", "time", "slots"], Ask($"select column_name from (describe select * from '{file}')").Select(row => row[0]));
    }

    private string Written(Action<TableWriter> fill)
    {
        string file = Path.Combine(_folder, string.Create(CultureInfo.InvariantCulture, $"{Guid.NewGuid():N}.parquet"));
        using FileStream output = new(file, FileMode.CreateNew, FileAccess.ReadWrite);
        using ParquetTableWriter table = new(Filled.Spec, output);
        fill(table);
        return file;
    }

    private static List<object?[]> Ask(string question)
    {
        using DuckDBConnection connection = new("DataSource=:memory:");
        connection.Open();
        using DbCommand command = connection.CreateCommand();
#pragma warning disable CA2100 // the question is the test's own
        command.CommandText = question;
#pragma warning restore CA2100
        using DbDataReader reader = command.ExecuteReader();
        List<object?[]> rows = [];
        while (reader.Read())
        {
            rows.Add([.. Enumerable.Range(0, reader.FieldCount).Select(place => reader.IsDBNull(place) ? null : reader.GetValue(place))]);
        }

        return rows;
    }
}
