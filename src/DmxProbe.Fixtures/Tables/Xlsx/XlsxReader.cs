using System.Xml;

namespace DmxProbe.Fixtures.Tables.Xlsx;

/// <summary>
/// Reads the worksheets of an xlsx file (Office Open XML, ECMA-376 part 1, section 18: names of parts and elements from
/// memory) as grids. Only what a patch sheet needs: values as they were last saved, merged cells filled, hidden
/// worksheets left out.
/// </summary>
internal static class XlsxReader
{
    /// <summary>Largest file, in octets.</summary>
    public const int MaxOctets = 64 * 1024 * 1024;

    /// <summary>Worksheets looked at.</summary>
    public const int MaxSheets = 32;

    private const string Advice = "open it in a spreadsheet and save it again as xlsx, or as CSV";

    /// <summary>Whether the file starts as a zip file does.</summary>
    public static bool IsZip(ReadOnlySpan<byte> octets) => octets.StartsWith("PK\u0003\u0004"u8) || octets.StartsWith("PK\u0005\u0006"u8);

    /// <summary>Whether the file is in the format that spreadsheets wrote before xlsx.</summary>
    public static bool IsOldSpreadsheet(ReadOnlySpan<byte> octets) => octets.StartsWith((ReadOnlySpan<byte>)[0xD0, 0xCF, 0x11, 0xE0]);

    /// <summary>Reads the worksheets; null and a problem when the file is none.</summary>
    /// <param name="octets">The whole file.</param>
    /// <param name="problem">What is wrong.</param>
    public static IReadOnlyList<Grid>? Read(byte[] octets, out TableProblem? problem)
    {
        problem = null;
        using BoundedZip? zip = BoundedZip.Open(octets, "a spreadsheet", out string refused);
        if (zip is null)
        {
            problem = Refused(refused);
            return null;
        }

        try
        {
            if (WorkbookPart(zip) is not string workbook || !zip.Has(workbook))
            {
                problem = Refused("a zip file without a workbook in it");
                return null;
            }

            List<(string Name, string Part)> sheets = Sheets(zip, workbook);
            if (sheets.Count == 0)
            {
                problem = Refused("a workbook without a visible worksheet");
                return null;
            }

            string folder = FolderOf(workbook);
            XlsxStrings strings = XlsxStrings.Read(zip, folder + "sharedStrings.xml");
            XlsxFormats formats = XlsxFormats.Read(zip, folder + "styles.xml");
            List<Grid> grids = [];
            foreach ((string name, string part) in sheets.Take(MaxSheets))
            {
                using XmlReader? xml = zip.Xml(part);
                if (xml is not null)
                {
                    grids.Add(new XlsxSheet(strings, formats).Read(xml, name));
                }
            }

            return grids;
        }
        catch (OverLimitException over)
        {
            problem = Refused(over.Message);
            return null;
        }
        catch (Exception broken) when (broken is XmlException or InvalidDataException or IOException or NotSupportedException or ArgumentException or FormatException or OverflowException)
        {
            // The library's words name positions inside a part, which help nobody.
            problem = Refused("a spreadsheet whose parts are broken");
            return null;
        }
    }

    private static TableProblem Refused(string found) => new("this is not a readable xlsx file", 0, "", "a spreadsheet", found, Advice);

    private static string FolderOf(string part) => part[..(part.LastIndexOf('/') + 1)];

    private static string? WorkbookPart(BoundedZip zip)
    {
        foreach ((string _, string type, string target) in Relations(zip, "_rels/.rels", ""))
        {
            if (type.EndsWith("/officeDocument", StringComparison.Ordinal))
            {
                return target;
            }
        }

        return null;
    }

    private static List<(string Name, string Part)> Sheets(BoundedZip zip, string workbook)
    {
        string folder = FolderOf(workbook);
        Dictionary<string, string> targets = [];
        foreach ((string id, string type, string target) in Relations(zip, $"{folder}_rels/{workbook[folder.Length..]}.rels", folder))
        {
            if (type.EndsWith("/worksheet", StringComparison.Ordinal))
            {
                targets.TryAdd(id, target);
            }
        }

        List<(string, string)> sheets = [];
        using XmlReader xml = zip.Xml(workbook)!;
        while (xml.Read())
        {
            if (xml.NodeType == XmlNodeType.Element && xml.LocalName == "sheet" && (xml.GetAttribute("state") ?? "visible") == "visible"
                && targets.TryGetValue(Id(xml) ?? "", out string? part) && zip.Has(part))
            {
                sheets.Add((xml.GetAttribute("name") ?? "", part));
            }
        }

        return sheets;
    }

    // The prefix of the relation's namespace differs by the program that wrote the file, and so does the namespace.
    private static string? Id(XmlReader xml)
    {
        for (int i = 0; i < xml.AttributeCount; i++)
        {
            xml.MoveToAttribute(i);
            if (xml.LocalName == "id" && xml.Prefix.Length > 0)
            {
                string id = xml.Value;
                xml.MoveToElement();
                return id;
            }
        }

        xml.MoveToElement();
        return null;
    }

    private static List<(string Id, string Type, string Target)> Relations(BoundedZip zip, string part, string folder)
    {
        List<(string, string, string)> relations = [];
        using XmlReader? xml = zip.Xml(part);
        while (xml?.Read() == true)
        {
            if (xml.NodeType == XmlNodeType.Element && xml.LocalName == "Relationship" && xml.GetAttribute("TargetMode") != "External" && relations.Count < BoundedZip.MaxEntries)
            {
                // A target is only ever compared with the names inside: '..' in it can lead nowhere.
                string target = xml.GetAttribute("Target") ?? "";
                relations.Add((xml.GetAttribute("Id") ?? "", xml.GetAttribute("Type") ?? "", target.StartsWith('/') ? target[1..] : folder + target));
            }
        }

        return relations;
    }
}
