using System.Globalization;

namespace DmxProbe.Fixtures.Gdtf;

/// <summary>A channel function of a DMX channel, or a logical channel that has none.</summary>
internal sealed class GdtfFunction
{
    /// <summary>Takes a function.</summary>
    /// <param name="node">Its element; the logical channel's when it has no function.</param>
    /// <param name="logicalAttribute">Attribute of the logical channel it is in.</param>
    public GdtfFunction(GdtfNode node, string? logicalAttribute)
    {
        Node = node;
        Attribute = GdtfAttribute.Of(node["Attribute"] is { Length: > 0 } own ? own : logicalAttribute);
        IsReadable = DmxValue.TryParse(node["DMXFrom"] ?? "0/1", out DmxValue from) & DmxValue.TryParse(node["ModeFrom"] ?? "0/1", out DmxValue modeFrom) &
            DmxValue.TryParse(node["ModeTo"] ?? "0/1", out DmxValue modeTo);
        From = from;
        ModeFrom = modeFrom;
        ModeTo = modeTo;
        PhysicalFrom = Physical(node["PhysicalFrom"], 0);
        PhysicalTo = Physical(node["PhysicalTo"], 1);
    }

    public GdtfNode Node { get; }

    public GdtfAttribute Attribute { get; }

    /// <summary>Whether its values are values.</summary>
    public bool IsReadable { get; }

    public DmxValue From { get; }

    /// <summary>The link to what it depends on; empty for nothing.</summary>
    public string ModeMaster => Node["ModeMaster"] ?? "";

    public DmxValue ModeFrom { get; }

    public DmxValue ModeTo { get; }

    public double PhysicalFrom { get; }

    public double PhysicalTo { get; }

    /// <summary>A physical value; the default where there is none or nonsense.</summary>
    public static double Physical(string? text, double otherwise) =>
        double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out double value) && double.IsFinite(value) ? value : otherwise;
}
