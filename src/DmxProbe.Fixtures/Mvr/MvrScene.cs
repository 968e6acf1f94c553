using System.Globalization;
using System.Xml;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Fixtures.Tables;

namespace DmxProbe.Fixtures.Mvr;

/// <summary>Reads the scene description from front to back and keeps fixtures and names of positions.</summary>
internal sealed class MvrScene
{
    private const int MaxAddresses = 64;
    private const int MaxPositions = 10_000;
    private readonly Stack<MvrFixture> _open = [];
    private string _element = "";
    private int _break;

    /// <summary>Whether it is a scene description at all.</summary>
    public bool Found { get; private set; }

    /// <summary>The fixtures, in the order of the file; a fixture inside another one stands after it.</summary>
    public List<MvrFixture> Fixtures { get; } = [];

    /// <summary>Names of positions by their identifiers.</summary>
    public Dictionary<string, string> Positions { get; } = new(StringComparer.OrdinalIgnoreCase);

    /// <summary>Reads it.</summary>
    /// <exception cref="XmlException">It is broken, or has a document type.</exception>
    /// <exception cref="OverLimitException">It holds more than is read.</exception>
    public static MvrScene Read(XmlReader xml)
    {
        MvrScene scene = new();
        while (xml.Read())
        {
            switch (xml.NodeType)
            {
                case XmlNodeType.Element:
                    scene.Element(xml);
                    break;
                case XmlNodeType.Text or XmlNodeType.CDATA:
                    scene.Text(xml.Value);
                    break;
                case XmlNodeType.EndElement:
                    scene.End(xml.LocalName);
                    break;
                default:
                    break;
            }
        }

        return scene;
    }

    private void Element(XmlReader xml)
    {
        _element = xml.IsEmptyElement ? "" : xml.LocalName;
        switch (xml.LocalName)
        {
            case "GeneralSceneDescription":
                Found = true;
                break;
            case "Position" when xml.GetAttribute("uuid") is { Length: > 0 } id && Positions.Count < MaxPositions:
                Positions.TryAdd(id, CellText.Fit(xml.GetAttribute("name") ?? "", PatchReader.MaxName));
                break;
            case "Fixture":
                if (Fixtures.Count == PatchReader.MaxUnits)
                {
                    throw new OverLimitException("more than 20,000 fixtures");
                }

                MvrFixture fixture = new(CellText.Fit(xml.GetAttribute("name") ?? "", PatchReader.MaxName), (xml as IXmlLineInfo)?.LineNumber ?? 0);
                Fixtures.Add(fixture);
                if (!xml.IsEmptyElement)
                {
                    _open.Push(fixture);
                }

                break;
            case "Address":
                _break = int.TryParse(xml.GetAttribute("break"), NumberStyles.None, CultureInfo.InvariantCulture, out int said) ? said : 0;
                break;
            default:
                break;
        }
    }

    private void Text(string text)
    {
        if (!_open.TryPeek(out MvrFixture? fixture))
        {
            return;
        }

        string value = CellText.Fit(text, PatchReader.MaxName);
        switch (_element)
        {
            case "GDTFSpec":
                fixture.Spec = value;
                break;
            case "GDTFMode":
                fixture.Mode = value;
                break;
            case "FixtureID":
                fixture.Id = value;
                break;
            case "Position":
                fixture.Position = value;
                break;
            case "Address" when fixture.Addresses.Count < MaxAddresses:
                fixture.Addresses.Add((_break, value));
                break;
            default:
                break;
        }
    }

    private void End(string name)
    {
        _element = "";
        if (name == "Fixture")
        {
            _open.TryPop(out _);
        }
    }
}
