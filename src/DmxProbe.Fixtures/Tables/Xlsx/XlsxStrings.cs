using System.Text;
using System.Xml;

namespace DmxProbe.Fixtures.Tables.Xlsx;

/// <summary>The texts that the cells of all worksheets refer to by number.</summary>
internal sealed class XlsxStrings
{
    /// <summary>Most characters kept of all texts together.</summary>
    public const int MaxCharacters = 16 * 1024 * 1024;

    /// <summary>Longest text of one cell; what goes beyond is cut and so refused later as too long.</summary>
    public const int MaxCell = 2000;

    private readonly List<string> _texts = [];

    private XlsxStrings()
    {
    }

    /// <summary>A text by its number; empty when there is none.</summary>
    public string this[int index] => index >= 0 && index < _texts.Count ? _texts[index] : "";

    /// <summary>Reads the part; without one there are no texts.</summary>
    /// <exception cref="OverLimitException">There is too much text.</exception>
    public static XlsxStrings Read(BoundedZip zip, string part)
    {
        XlsxStrings strings = new();
        long total = 0;
        using XmlReader? xml = zip.Xml(part);
        while (xml?.Read() == true)
        {
            if (xml.NodeType == XmlNodeType.Element && xml.LocalName == "si")
            {
                string text = Text(xml);
                total += text.Length + 1;
                if (total > MaxCharacters)
                {
                    throw new OverLimitException("more than 16 million characters of text");
                }

                strings._texts.Add(text);
            }
        }

        return strings;
    }

    /// <summary>
    /// The text of the element the reader is on (a shared or an inline string): its runs put together, reading aids
    /// for other scripts left out. Leaves the reader on the end of the element.
    /// </summary>
    public static string Text(XmlReader xml)
    {
        if (xml.IsEmptyElement)
        {
            return "";
        }

        StringBuilder text = new();
        int depth = xml.Depth, aid = int.MaxValue;
        bool inText = false;
        while (xml.Read() && xml.Depth > depth)
        {
            switch (xml.NodeType)
            {
                case XmlNodeType.Element:
                    aid = xml.LocalName == "rPh" && !xml.IsEmptyElement ? Math.Min(aid, xml.Depth) : aid;
                    inText = xml.LocalName == "t" && !xml.IsEmptyElement && xml.Depth < aid;
                    break;
                case XmlNodeType.EndElement:
                    aid = xml.Depth == aid ? int.MaxValue : aid;
                    inText = false;
                    break;
                case XmlNodeType.Text or XmlNodeType.CDATA or XmlNodeType.SignificantWhitespace or XmlNodeType.Whitespace when inText && text.Length < MaxCell:
                    text.Append(xml.Value.AsSpan(0, Math.Min(xml.Value.Length, MaxCell)));
                    break;
                default:
                    break;
            }
        }

        return text.ToString();
    }
}
