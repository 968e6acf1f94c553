using System.Globalization;
using System.Text;

using DmxProbe.Reporting.Tables;

using Microsoft.VisualBasic.FileIO;

namespace DmxProbe.Reporting.Tests.Tables;

/// <summary>CSV read back by a general reader that is not the library we write with.</summary>
public class CsvTableWriterTests
{
    [Fact]
    public void A_general_reader_gets_every_cell_back()
    {
        List<string[]> rows = Read(Written());
        Assert.Equal(["name", "count", "level", "time", "slots"], rows[0]);
        Assert.Equal(Filled.Texts.Length + 1, rows.Count);
        Assert.Equal(["plain", "", "", "", "0000FF"], rows[1]);
        Assert.Equal("comma, and \"quotes\"", rows[2][0]);
        Assert.Equal("1969-12-31T23:59:59.999999999Z", rows[2][3]);
        Assert.Equal((long.MinValue + 2).ToString(CultureInfo.InvariantCulture), rows[3][1]);
        Assert.Equal(2 / 3.0, double.Parse(rows[3][2], CultureInfo.InvariantCulture));
        Assert.Equal("2026-03-14T19:41:00.007692103Z", rows[3][3]);
    }

    [Fact]
    public void What_a_spreadsheet_or_a_terminal_would_obey_is_made_harmless()
    {
        List<string[]> rows = Read(Written());
        Assert.Equal("'=SUM(A1)", rows[4][0]);
        Assert.Equal("\\u001B[2J", rows[5][0]);
        Assert.Equal("Bühne \\u202Elinks", rows[6][0]);
        Assert.Equal("'-1", rows[8][0]);
        Assert.DoesNotContain(rows, row => row.Any(cell => cell.Any(char.IsControl)));
    }

    [Fact]
    public void Lines_end_as_RFC_4180_section_2_says()
    {
        string text = Encoding.UTF8.GetString(Written());
        Assert.EndsWith("\r\n", text, StringComparison.Ordinal);
        Assert.Equal(Filled.Texts.Length + 1, text.Split("\r\n").Length - 1);
        Assert.Equal(text.Count(character => character == '\n'), text.Count(character => character == '\r'));
    }

    [Fact]
    public void A_table_without_rows_has_its_headings()
    {
        using MemoryStream output = new();
        using CsvTableWriter table = new(Filled.Spec, output);
        table.Finish();
        Assert.Equal("name,count,level,time,slots\r\n", Encoding.UTF8.GetString(output.ToArray()));
    }

    [Fact]
    public void Cells_out_of_order_and_rows_half_set_are_faults_of_the_caller()
    {
        using MemoryStream output = new();
        using CsvTableWriter table = new(Filled.Spec, output);
        Assert.Throws<InvalidOperationException>(() => table.Whole(1));
        table.Text("a");
        Assert.Throws<InvalidOperationException>(table.EndRow);
    }

    private static byte[] Written()
    {
        using MemoryStream output = new();
        using CsvTableWriter table = new(Filled.Spec, output);
        Filled.Fill(table);
        return output.ToArray();
    }

    private static List<string[]> Read(byte[] csv)
    {
        using MemoryStream input = new(csv);
        using TextFieldParser parser = new(input, Encoding.UTF8) { TextFieldType = FieldType.Delimited, HasFieldsEnclosedInQuotes = true, TrimWhiteSpace = false };
        parser.SetDelimiters(",");
        List<string[]> rows = [];
        while (parser.ReadFields() is string[] row)
        {
            rows.Add(row);
        }

        return rows;
    }
}
