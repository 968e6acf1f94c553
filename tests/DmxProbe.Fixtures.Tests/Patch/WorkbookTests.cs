using System.Globalization;
using System.IO.Compression;
using System.Text;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Testing.Spreadsheets;
using ExcelDataReader;
using MiniExcelLibs;

namespace DmxProbe.Fixtures.Tests.Patch;

public sealed class WorkbookTests
{
    [Fact]
    public void A_workbook_of_a_general_library_is_read()
    {
        // MiniExcel writes the file: neither our builder nor our reader had a hand in it.
        using MemoryStream file = new();
        file.SaveAs(new[]
        {
            new { Unit = "LX1-1", Type = "wash <&> Ü", Mode = "10-slot", Universe = 1, Address = 1.0, Note = "stage left" },
            new { Unit = "LX1-2", Type = "wash <&> Ü", Mode = "10-slot", Universe = 2, Address = 13.0, Note = "" },
        });
        file.Position = 0;
        PatchSheet sheet = PatchReader.Read(file).Sheet!;
        Assert.Equal(["LX1-1 wash <&> Ü 10-slot 1.1 stage left", "LX1-2 wash <&> Ü 10-slot 2.13 "], sheet.Units.Select(unit => $"{unit.Unit} {unit.Type} {unit.Mode} {unit.Universe}.{unit.Address} {unit.Note}"));
    }

    [Fact]
    public void Our_test_workbooks_are_what_a_general_library_reads_too()
    {
        // ExcelDataReader as the judge of the builder that the other tests rest on.
        Encoding.RegisterProvider(CodePagesEncodingProvider.Instance);
        using MemoryStream file = new(Messy(), writable: false);
        using IExcelDataReader reader = ExcelReaderFactory.CreateReader(file);
        List<string> rows = [];
        while (reader.Read())
        {
            rows.Add(string.Join('|', Enumerable.Range(0, reader.FieldCount).Select(i => Convert.ToString(reader.GetValue(i), CultureInfo.InvariantCulture))));
        }

        Assert.Equal(["Unit|Type|Mode|Address", "1|wash|10ch|1.001", "2|||1.1", "=3|||1.121"], rows);
        Assert.Equal((1, 1, 3), (reader.MergeCells[0].FromColumn, reader.MergeCells[0].FromRow, reader.MergeCells[0].ToRow));
    }

    [Fact]
    public void Merged_cells_number_formats_and_formulas_are_read_as_they_are_seen()
    {
        PatchReading reading = Read(Messy());
        Assert.Equal(["1 wash 10ch 1.1", "2 wash 10ch 1.100", "=3 wash 10ch 1.121"], reading.Sheet!.Units.Select(unit => $"{unit.Unit} {unit.Type} {unit.Mode} {unit.Universe}.{unit.Address}"));
        Assert.Equal("xlsx, worksheet 'Patch'", reading.Recognition!.Format);
    }

    [Fact]
    public void Two_patches_in_one_workbook_are_one_question()
    {
        byte[] file = new WorkbookBytes().Texts("Tonight", [["unit", "type", "address"], ["A", "x", "1.1"]]).Texts("Old", [["unit", "type", "address"], ["B", "x", "1.1"]]).Texts("Notes", [["call at six"]]).ToBytes();
        Assert.Equal("which worksheet is the patch: expected one of them, found 'Tonight' and 'Old'; say which with --worksheet NAME", Assert.Single(Read(file).Problems).ToString());
        Assert.Equal("B", Read(file, new PatchReadOptions { Worksheet = "old" }).Sheet!.Units[0].Unit);
        Assert.Equal("there is no such worksheet: expected 'Tonight' or 'Old' or 'Notes', found 'x'; correct it after --worksheet", Read(file, new PatchReadOptions { Worksheet = "x" }).Problems[0].ToString());
    }

    [Fact]
    public void A_formula_without_a_value_and_a_date_are_said_with_their_row()
    {
        WorkbookBytes book = new();
        string?[] head = [book.Text("unit"), book.Text("type"), book.Text("address")];
        byte[] formula = book.Sheet("P", new string?[][] { head, [book.Text("A"), book.Text("x"), WorkbookBytes.Formula("C1+1", null)] }).ToBytes();
        Assert.Equal("a formula without a saved value where a value should be, line 2, column address: expected an address, found nothing; open the sheet in a spreadsheet, let it calculate, and save it again", Read(formula).Problems[0].ToString());
        book = new WorkbookBytes();
        head = [book.Text("unit"), book.Text("type"), book.Text("address")];
        byte[] date = book.Sheet("P", new string?[][] { head, [book.Text("A"), book.Text("x"), WorkbookBytes.Number(46034, WorkbookBytes.Date)] }).ToBytes();
        Assert.StartsWith("a date where a value should be, line 2, column address", Read(date).Problems[0].ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void What_is_no_workbook_is_refused_with_one_sentence()
    {
        Assert.Equal("this is not a readable xlsx file: expected a spreadsheet, found a broken zip file; open it in a spreadsheet and save it again as xlsx, or as CSV", Assert.Single(Read("PK\u0003\u0004 and no more"u8.ToArray()).Problems).ToString());
        Assert.Equal("this is not a readable xlsx file: expected a spreadsheet, found a zip file without a workbook in it; open it in a spreadsheet and save it again as xlsx, or as CSV", Assert.Single(Read(Zip(("description.xml", "<GDTF/>"u8.ToArray()))).Problems).ToString());
        Assert.Equal("this is a spreadsheet in the format before xlsx: expected xlsx or CSV; open it in a spreadsheet and save it as xlsx or CSV", Assert.Single(Read([0xD0, 0xCF, 0x11, 0xE0, 0xA1, 0xB1, 0x1A, 0xE1]).Problems).ToString());
    }

    [Theory]
    [InlineData(CompressionLevel.Fastest, "more than 256 MB when unpacked")]
    [InlineData(CompressionLevel.SmallestSize, "a part that unpacks to more than 200 times its size")]
    public void A_zip_bomb_is_refused_in_bounded_memory(CompressionLevel level, string found)
    {
        // 300 MB of spaces inside a worksheet.
        byte[] bomb = Zip(
            level,
            ("_rels/.rels", Encoding.UTF8.GetBytes("<R xmlns=\"r\"><Relationship Id=\"a\" Type=\"x/officeDocument\" Target=\"xl/workbook.xml\"/></R>")),
            ("xl/_rels/workbook.xml.rels", Encoding.UTF8.GetBytes("<R xmlns=\"r\"><Relationship Id=\"a\" Type=\"x/worksheet\" Target=\"w.xml\"/></R>")),
            ("xl/workbook.xml", Encoding.UTF8.GetBytes("<w xmlns=\"m\" xmlns:r=\"r\"><sheets><sheet name=\"P\" r:id=\"a\"/></sheets></w>")),
            ("xl/w.xml", null));
        long before = GC.GetAllocatedBytesForCurrentThread();
        Assert.Equal("this is not a readable xlsx file: expected a spreadsheet, found " + found + "; open it in a spreadsheet and save it again as xlsx, or as CSV", Assert.Single(Read(bomb).Problems).ToString());
        Assert.InRange(GC.GetAllocatedBytesForCurrentThread() - before, 0, 32 * 1024 * 1024);
    }

    [Theory]
    [InlineData("../../etc/passwd")]
    [InlineData("/xl/../../w.xml")]
    [InlineData("..\\w.xml")]
    public void An_entry_that_points_outside_is_never_followed(string target)
    {
        byte[] file = new WorkbookBytes().Texts("P", [["unit", "type", "address"], ["A", "x", "1.1"]]).Part(target, "<evil/>"u8.ToArray()).ToBytes();
        Assert.Equal("A", Assert.Single(Read(file).Sheet!.Units).Unit);
        byte[] pointing = Zip(
            ("_rels/.rels", Encoding.UTF8.GetBytes($"<R xmlns=\"r\"><Relationship Id=\"a\" Type=\"x/officeDocument\" Target=\"{target}\"/></R>")));
        Assert.Contains("without a workbook", Assert.Single(Read(pointing).Problems).ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void Document_types_and_entities_are_refused()
    {
        byte[] file = Zip(("_rels/.rels", "<!DOCTYPE r [<!ENTITY a 'aaaaaaaaaa'><!ENTITY b '&a;&a;&a;&a;'>]><r>&b;</r>"u8.ToArray()));
        Assert.Contains("a spreadsheet whose parts are broken", Assert.Single(Read(file).Problems).ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void More_than_a_thousand_entries_are_refused() =>
        Assert.Contains("1001 entries", Assert.Single(Read(Zip([.. Enumerable.Range(0, 1001).Select(i => ($"e{i}", Array.Empty<byte>()))])).Problems).ToString(), StringComparison.Ordinal);

    [Fact]
    public void A_range_merged_to_the_end_of_the_worksheet_fills_only_the_rows_that_are_there()
    {
        WorkbookBytes book = new();
        string?[][] rows = [[book.Text("unit"), book.Text("type"), book.Text("address")], [book.Text("A"), book.Text("x"), book.Text("1.1")], [book.Text("B"), null, book.Text("1.2")]];
        PatchSheet sheet = Read(book.Sheet("P", rows, ["B2:B1048576", "C2:XFD2", "A1:A0", "nonsense"]).ToBytes()).Sheet!;
        Assert.Equal(["x", "x"], sheet.Units.Select(unit => unit.Type));
    }

    [Fact]
    public void Every_cut_and_every_damage_gives_a_sheet_or_a_sentence()
    {
        byte[] whole = Messy();
        for (int length = 0; length < whole.Length; length += 7)
        {
            Check(whole[..length]);
        }

        Random random = new(20261125);
        for (int i = 0; i < 600; i++)
        {
            byte[] damaged = [.. whole];
            for (int hit = random.Next(1, 8); hit > 0; hit--)
            {
                damaged[random.Next(damaged.Length)] = (byte)random.Next(256);
            }

            Check(damaged);
            byte[] noise = new byte[random.Next(300)];
            random.NextBytes(noise);
            Check(noise);
            Check([.. "PK\u0003\u0004"u8, .. noise]);
        }
    }

    [Fact]
    public void Damaged_xml_inside_a_sound_zip_gives_a_sheet_or_a_sentence()
    {
        const string Xml = "<worksheet><sheetData><row r=\"1\"><c r=\"A1\" t=\"inlineStr\"><is><r><t>unit</t></r><rPh><t>no</t></rPh></is></c><c t=\"inlineStr\"><is><t>type</t></is></c><c r=\"C1\" t=\"inlineStr\"><is><t>address</t></is></c></row>" +
            "<row r=\"2\"><c r=\"A2\" t=\"str\"><f>1</f><v>A</v></c><c r=\"B2\" t=\"b\"><v>1</v></c><c r=\"C2\" s=\"1\"><v>1.1</v></c></row></sheetData><mergeCells><mergeCell ref=\"A2:A3\"/></mergeCells></worksheet>";
        Assert.Equal("A TRUE 1.1", Read(WithSheet(Xml)).Sheet!.Units.Select(unit => $"{unit.Unit} {unit.Type} {unit.Universe}.{unit.Address}").Single());
        Random random = new(7);
        const string Alphabet = "<>/\"=:AZ019 rcvtsf&;-";
        for (int i = 0; i < 1500; i++)
        {
            char[] damaged = Xml.ToCharArray();
            for (int hit = random.Next(1, 6); hit > 0; hit--)
            {
                damaged[random.Next(damaged.Length)] = Alphabet[random.Next(Alphabet.Length)];
            }

            Check(WithSheet(new string(damaged)));
        }
    }

    private static byte[] Messy()
    {
        WorkbookBytes book = new();
        return book.Sheet("Patch",
            [
                [book.Text("Unit"), book.Text("Type"), book.Text("Mode"), book.Text("Address")],
                [WorkbookBytes.Number(1), book.Text("wash"), book.Text("10ch"), WorkbookBytes.Number(1.001, WorkbookBytes.ThreeDecimals)],
                [WorkbookBytes.Formula("A2+1", "2"), null, null, WorkbookBytes.Number(1.1, WorkbookBytes.ThreeDecimals)],
                [book.Text("=3"), null, null, WorkbookBytes.Number(1.121, WorkbookBytes.ThreeDecimals)],
            ],
            ["B2:B4", "C2:C4"]).ToBytes();
    }

    private static byte[] WithSheet(string xml) => Zip(
        ("_rels/.rels", Encoding.UTF8.GetBytes("<R xmlns=\"r\"><Relationship Id=\"a\" Type=\"x/officeDocument\" Target=\"/xl/workbook.xml\"/></R>")),
        ("xl/_rels/workbook.xml.rels", Encoding.UTF8.GetBytes("<R xmlns=\"r\"><Relationship Id=\"a\" Type=\"x/worksheet\" Target=\"w.xml\"/></R>")),
        ("xl/workbook.xml", Encoding.UTF8.GetBytes("<w xmlns=\"m\" xmlns:q=\"r\"><sheets><sheet name=\"P\" q:id=\"a\"/></sheets></w>")),
        ("xl/w.xml", Encoding.UTF8.GetBytes(xml)));

    private static byte[] Zip(params (string Name, byte[]? Content)[] entries) => Zip(CompressionLevel.Fastest, entries);

    private static byte[] Zip(CompressionLevel level, params (string Name, byte[]? Content)[] entries)
    {
        using MemoryStream file = new();
        using (ZipArchive zip = new(file, ZipArchiveMode.Create, leaveOpen: true))
        {
            foreach ((string name, byte[]? content) in entries)
            {
                using Stream part = zip.CreateEntry(name, level).Open();
                if (content is not null)
                {
                    part.Write(content);
                    continue;
                }

                part.Write("<w>"u8);
                byte[] spaces = new byte[1024 * 1024];
                Array.Fill(spaces, (byte)' ');
                for (int i = 0; i < 300; i++)
                {
                    part.Write(spaces);
                }
            }
        }

        return file.ToArray();
    }

    private static void Check(byte[] file)
    {
        PatchReading reading = Read(file);
        Assert.NotEqual(reading.Sheet is null, reading.Problems.Count == 0);
        Assert.All(reading.Problems, problem => Assert.DoesNotContain(problem.ToString(), char.IsControl));
    }

    private static PatchReading Read(byte[] file, PatchReadOptions? options = null)
    {
        using MemoryStream stream = new(file, writable: false);
        return PatchReader.Read(stream, options);
    }
}
