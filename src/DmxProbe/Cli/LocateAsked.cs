using DmxProbe.Cli.Ask;
using DmxProbe.Protocols.Rdm;

namespace DmxProbe.Cli;

/// <summary>What a run of <c>locate</c> is asked.</summary>
/// <param name="Unit">The unit's name.</param>
/// <param name="TraceName">The trace as the person named it; null = there is none.</param>
/// <param name="Region">Which region of the trace; null = the only one.</param>
/// <param name="Map">The map of universes as given; null = find it.</param>
/// <param name="Mode">The one mode that is open; null = every mode of the unit's type.</param>
internal sealed record LocateAsked(string Unit, string? TraceName, string? Region, string? Map, string? Mode)
{
    /// <summary>The unit's RDM UID; null where nobody told it.</summary>
    public RdmUid? Uid { get; init; }

    /// <summary>Evidence beside the trace; null = none.</summary>
    public AskAsked? Also { get; init; }
}
