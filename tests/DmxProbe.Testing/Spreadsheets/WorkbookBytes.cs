using System.Globalization;
using System.IO.Compression;
using System.Security;
using System.Text;

namespace DmxProbe.Testing.Spreadsheets;

/// <summary>
/// Builds xlsx files part by part, so that a test decides every detail: shared, inline and formula cells, merges, styles.
/// That they are proper workbooks is checked by reading them with a general library.
/// </summary>
public sealed class WorkbookBytes
{
    /// <summary>Number formats of the styles 0 to 2: general, 0.000, and a date.</summary>
    public const int General = 0, ThreeDecimals = 1, Date = 2;

    private const string Main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
    private const string Office = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
    private const string Package = "http://schemas.openxmlformats.org/package/2006/relationships";
    private readonly List<(string Name, bool Hidden, string Xml)> _sheets = [];
    private readonly List<string> _strings = [];
    private readonly Dictionary<string, int> _indexes = new(StringComparer.Ordinal);
    private readonly List<(string Name, byte[] Content)> _parts = [];

    /// <summary>A cell with a text of the shared table.</summary>
    public string Text(string text)
    {
        if (!_indexes.TryGetValue(text, out int index))
        {
            _indexes[text] = index = _strings.Count;
            _strings.Add(text);
        }

        return string.Create(CultureInfo.InvariantCulture, $" t=\"s\"><v>{index}</v>");
    }

    /// <summary>A cell with a number.</summary>
    public static string Number(double value, int style = General) => string.Create(CultureInfo.InvariantCulture, $" s=\"{style}\"><v>{value}</v>");

    /// <summary>A cell with a formula and the value it had when saved; null for none.</summary>
    public static string Formula(string formula, string? saved) => $" t=\"str\"><f>{SecurityElement.Escape(formula)}</f>" + (saved is null ? "" : $"<v>{SecurityElement.Escape(saved)}</v>");

    /// <summary>Adds a worksheet.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="rows">Rows of cells made by the members above; null for an empty cell.</param>
    /// <param name="merges">Merged ranges such as <c>A2:A9</c>.</param>
    /// <param name="hidden">Whether it is hidden.</param>
    public WorkbookBytes Sheet(string name, IEnumerable<string?[]> rows, IEnumerable<string>? merges = null, bool hidden = false)
    {
        StringBuilder xml = new($"<worksheet xmlns=\"{Main}\"><sheetData>");
        int row = 0;
        foreach (string?[] cells in rows)
        {
            xml.Append(CultureInfo.InvariantCulture, $"<row r=\"{++row}\">");
            for (int i = 0; i < cells.Length; i++)
            {
                if (cells[i] is string cell)
                {
                    xml.Append(CultureInfo.InvariantCulture, $"<c r=\"{(char)('A' + i)}{row}\"{cell}</c>");
                }
            }

            xml.Append("</row>");
        }

        string[] ranges = [.. merges ?? []];
        xml.Append("</sheetData>");
        if (ranges.Length > 0)
        {
            xml.Append(CultureInfo.InvariantCulture, $"<mergeCells count=\"{ranges.Length}\">");
            foreach (string range in ranges)
            {
                xml.Append(CultureInfo.InvariantCulture, $"<mergeCell ref=\"{range}\"/>");
            }

            xml.Append("</mergeCells>");
        }

        _sheets.Add((name, hidden, xml.Append("</worksheet>").ToString()));
        return this;
    }

    /// <summary>Adds a worksheet of texts.</summary>
    public WorkbookBytes Texts(string name, params string[][] rows) => Sheet(name, rows.Select(row => row.Select(cell => cell.Length == 0 ? null : Text(cell)).ToArray()));

    /// <summary>Adds a part of any name and content.</summary>
    public WorkbookBytes Part(string name, byte[] content)
    {
        _parts.Add((name, content));
        return this;
    }

    /// <summary>The file.</summary>
    public byte[] ToBytes()
    {
        using MemoryStream file = new();
        using (ZipArchive zip = new(file, ZipArchiveMode.Create, leaveOpen: true))
        {
            StringBuilder types = new(), relations = new(), list = new();
            for (int i = 1; i <= _sheets.Count; i++)
            {
                (string name, bool hidden, string xml) = _sheets[i - 1];
                types.Append(CultureInfo.InvariantCulture, $"<Override PartName=\"/xl/worksheets/sheet{i}.xml\" ContentType=\"application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml\"/>");
                relations.Append(CultureInfo.InvariantCulture, $"<Relationship Id=\"rId{i}\" Type=\"{Office}/worksheet\" Target=\"worksheets/sheet{i}.xml\"/>");
                list.Append(CultureInfo.InvariantCulture, $"<sheet name=\"{SecurityElement.Escape(name)}\" sheetId=\"{i}\" r:id=\"rId{i}\"{(hidden ? " state=\"hidden\"" : "")}/>");
                Put(zip, $"xl/worksheets/sheet{i}.xml", xml);
            }

            Put(zip, "[Content_Types].xml", "<Types xmlns=\"http://schemas.openxmlformats.org/package/2006/content-types\"><Default Extension=\"rels\" ContentType=\"application/vnd.openxmlformats-package.relationships+xml\"/>" +
                "<Default Extension=\"xml\" ContentType=\"application/xml\"/><Override PartName=\"/xl/workbook.xml\" ContentType=\"application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml\"/>" +
                "<Override PartName=\"/xl/sharedStrings.xml\" ContentType=\"application/vnd.openxmlformats-officedocument.spreadsheetml.sharedStrings+xml\"/>" +
                "<Override PartName=\"/xl/styles.xml\" ContentType=\"application/vnd.openxmlformats-officedocument.spreadsheetml.styles+xml\"/>" + types + "</Types>");
            Put(zip, "_rels/.rels", $"<Relationships xmlns=\"{Package}\"><Relationship Id=\"rId1\" Type=\"{Office}/officeDocument\" Target=\"xl/workbook.xml\"/></Relationships>");
            Put(zip, "xl/_rels/workbook.xml.rels", $"<Relationships xmlns=\"{Package}\">{relations}<Relationship Id=\"rIdS\" Type=\"{Office}/sharedStrings\" Target=\"sharedStrings.xml\"/><Relationship Id=\"rIdF\" Type=\"{Office}/styles\" Target=\"styles.xml\"/></Relationships>");
            Put(zip, "xl/workbook.xml", $"<workbook xmlns=\"{Main}\" xmlns:r=\"{Office}\"><sheets>{list}</sheets></workbook>");
            Put(zip, "xl/sharedStrings.xml", $"<sst xmlns=\"{Main}\">" + string.Concat(_strings.Select(text => $"<si><t xml:space=\"preserve\">{SecurityElement.Escape(text)}</t></si>")) + "</sst>");
            Put(zip, "xl/styles.xml", $"<styleSheet xmlns=\"{Main}\"><numFmts count=\"1\"><numFmt numFmtId=\"164\" formatCode=\"0.000\"/></numFmts><fonts count=\"1\"><font/></fonts><fills count=\"1\"><fill/></fills><borders count=\"1\"><border/></borders>" +
                "<cellStyleXfs count=\"1\"><xf numFmtId=\"0\"/></cellStyleXfs><cellXfs count=\"3\"><xf numFmtId=\"0\"/><xf numFmtId=\"164\"/><xf numFmtId=\"14\"/></cellXfs></styleSheet>");
            foreach ((string name, byte[] content) in _parts)
            {
                using Stream part = zip.CreateEntry(name).Open();
                part.Write(content);
            }
        }

        return file.ToArray();
    }

    private static void Put(ZipArchive zip, string name, string xml)
    {
        using Stream part = zip.CreateEntry(name).Open();
        part.Write(Encoding.UTF8.GetBytes("<?xml version=\"1.0\" encoding=\"UTF-8\" standalone=\"yes\"?>" + xml));
    }
}
