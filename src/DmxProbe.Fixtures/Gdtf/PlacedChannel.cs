namespace DmxProbe.Fixtures.Gdtf;

/// <summary>A channel at one place of its geometry.</summary>
/// <param name="Channel">The channel.</param>
/// <param name="Instance">The place.</param>
/// <param name="Break">Its break, from 1.</param>
/// <param name="Slots">Its slots in the break, from 1, the most significant first; none for a virtual channel.</param>
internal sealed record PlacedChannel(GdtfChannel Channel, GdtfInstance Instance, int Break, IReadOnlyList<int> Slots)
{
    public int Bytes => Slots.Count;

    /// <summary>The function that names the slot: of those that do something the one its logical channel is named after, light first.</summary>
    public GdtfAttribute Attribute { get; } = Main(Channel);

    private static GdtfAttribute Main(GdtfChannel channel)
    {
        GdtfAttribute own = GdtfAttribute.Of(channel.Node.Child("LogicalChannel")?["Attribute"]);
        GdtfAttribute[] all = [.. channel.Functions.Select(function => function.Attribute).OrderBy(one => one != own)];
        return Array.Find(all, one => one.Kind == AttributeKind.Hazard) ??
            Array.Find(all, one => one.Role == Charts.SlotRole.Intensity) ??
            Array.Find(all, one => IsLight(one.Role)) ??
            Array.Find(all, one => one.Kind != AttributeKind.Nothing) ??
            all.FirstOrDefault() ?? GdtfAttribute.Of("");
    }

    internal static bool IsLight(Charts.SlotRole role) => role is Charts.SlotRole.Intensity or Charts.SlotRole.Shutter || IsColour(role);

    internal static bool IsColour(Charts.SlotRole role) => role is Charts.SlotRole.Red or Charts.SlotRole.Green or Charts.SlotRole.Blue or Charts.SlotRole.White or
        Charts.SlotRole.Amber or Charts.SlotRole.UltraViolet or Charts.SlotRole.OtherEmitter;
}
