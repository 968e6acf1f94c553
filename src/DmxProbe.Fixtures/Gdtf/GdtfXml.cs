using System.Xml;
using DmxProbe.Fixtures.Tables;

namespace DmxProbe.Fixtures.Gdtf;

/// <summary>Reads what charts need of a description.xml: parts in use, attributes in use, a bounded number of elements.</summary>
internal static class GdtfXml
{
    /// <summary>Most octets of a description.</summary>
    public const long MaxOctets = 32L * 1024 * 1024;

    private const int MaxElements = 400_000;
    private const int MaxDepth = 64;
    private static readonly HashSet<string> Parts = ["AttributeDefinitions", "Wheels", "Geometries", "DMXModes"];
    private static readonly HashSet<string> Unused = ["ActivationGroups", "FeatureGroups", "Relations", "FTMacros", "Facet", "AnimationSystem", "SubPhysicalUnit", "SubChannelSet"];

    private static readonly HashSet<string> Attributes =
    [
        "DataVersion", "Name", "Attribute", "OriginalAttribute", "Pretty", "PhysicalUnit", "Geometry", "DMXBreak", "DMXOffset", "Offset", "Coarse", "Fine", "Ultra", "Uber",
        "Default", "DMXFrom", "PhysicalFrom", "PhysicalTo", "ModeMaster", "ModeFrom", "ModeTo", "Wheel", "WheelSlotIndex", "InitialFunction",
    ];

    /// <summary>The element FixtureType with the parts in use.</summary>
    /// <exception cref="XmlException">The text is not well-formed, or has a document type.</exception>
    /// <exception cref="OverLimitException">It is larger or deeper than a description may be.</exception>
    /// <exception cref="InvalidDataException">It is no description.</exception>
    public static GdtfNode Read(XmlReader xml)
    {
        GdtfNode root = new("");
        GdtfNode[] path = new GdtfNode[MaxDepth];
        path[0] = root;
        int elements = 0;
        bool more = xml.Read();
        while (more)
        {
            if (xml.NodeType != XmlNodeType.Element)
            {
                more = xml.Read();
                continue;
            }

            if (xml.Depth == 0 && xml.LocalName != "GDTF")
            {
                throw new InvalidDataException("a description whose first element is not GDTF");
            }

            if (xml.Depth + 1 >= MaxDepth || ++elements > MaxElements)
            {
                throw new OverLimitException($"more than {Shown.Number(elements > MaxElements ? MaxElements : MaxDepth)} {(elements > MaxElements ? "elements" : "elements inside each other")}");
            }

            if ((xml.Depth == 2 && !Parts.Contains(xml.LocalName)) || (xml.Depth > 2 && Unused.Contains(xml.LocalName)))
            {
                xml.Skip();
                more = xml.ReadState == ReadState.Interactive;
                continue;
            }

            GdtfNode node = new(xml.LocalName);
            path[xml.Depth].Add(node);
            path[xml.Depth + 1] = node;
            for (bool any = xml.MoveToFirstAttribute(); any; any = xml.MoveToNextAttribute())
            {
                if (Attributes.Contains(xml.LocalName))
                {
                    node.Add(xml.LocalName, xml.Value);
                }
            }

            xml.MoveToElement();
            more = xml.Read();
        }

        return root.Child("GDTF")?.Child("FixtureType") ?? throw new InvalidDataException("a description without a fixture type");
    }
}
