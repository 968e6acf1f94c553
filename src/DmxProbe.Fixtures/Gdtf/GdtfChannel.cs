using System.Globalization;

namespace DmxProbe.Fixtures.Gdtf;

/// <summary>A DMX channel of a mode as the file has it, before it has a place.</summary>
internal sealed class GdtfChannel
{
    private const int MaxBytes = 4;
    private static readonly string[] OldOffsets = ["Coarse", "Fine", "Ultra", "Uber"];

    private GdtfChannel(GdtfNode node, IReadOnlyList<long> offsets)
    {
        Node = node;
        Offsets = offsets;
        foreach (GdtfNode logical in node.All("LogicalChannel"))
        {
            GdtfNode[] functions = [.. logical.All("ChannelFunction")];
            string? attribute = logical["Attribute"];
            Functions.AddRange(functions.Length == 0 ? [new GdtfFunction(logical, attribute)] : functions.Select(function => new GdtfFunction(function, attribute)));
        }

        Geometry = node["Geometry"] ?? "";
        Name = Geometry + "_" + (node.Child("LogicalChannel")?["Attribute"] ?? "");
        Break = (node["DMXBreak"] ?? "1").Trim() is var text && text.Equals("Overwrite", StringComparison.OrdinalIgnoreCase)
            ? null
            : int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out int number) && number > 0 ? number : 1;
    }

    public GdtfNode Node { get; }

    /// <summary>Its slots before a place is added, the most significant first; none for a virtual channel.</summary>
    public IReadOnlyList<long> Offsets { get; }

    public List<GdtfFunction> Functions { get; } = [];

    public string Geometry { get; }

    /// <summary>As links name it.</summary>
    public string Name { get; }

    /// <summary>Its break; null when the reference says it (Overwrite).</summary>
    public int? Break { get; }

    /// <summary>Its value before anybody touches it: the function's word goes before the channel's. Null when there is none.</summary>
    public DmxValue? Default
    {
        get
        {
            string? initial = Node["InitialFunction"]?.Split('.')[^1];
            GdtfFunction? first = Functions.Find(function => initial is not null && function.Node["Name"] == initial) ?? Functions.FirstOrDefault();
            return DmxValue.TryParse(first?.Node["Default"] ?? Node["Default"], out DmxValue value) ? value : null;
        }
    }

    /// <summary>Takes a channel; null when its offsets are none.</summary>
    /// <param name="node">Its element.</param>
    /// <param name="written">Its offsets as they stand there.</param>
    public static GdtfChannel? Of(GdtfNode node, out string written)
    {
        string? offsets = node["Offset"];
        written = offsets ?? string.Join(',', OldOffsets.Select(old => node[old] ?? "").Where(IsSaid));
        if (!IsSaid(written))
        {
            return new GdtfChannel(node, []);
        }

        List<long> read = [];
        foreach (string part in written.Split(','))
        {
            if (!int.TryParse(part, NumberStyles.AllowLeadingWhite | NumberStyles.AllowTrailingWhite, CultureInfo.InvariantCulture, out int offset) || offset < 1 || read.Count == MaxBytes)
            {
                return null;
            }

            read.Add(offset);
        }

        return new GdtfChannel(node, read);
    }

    private static bool IsSaid(string text) => text.Trim() is { Length: > 0 } said && !said.Equals("None", StringComparison.OrdinalIgnoreCase);
}
