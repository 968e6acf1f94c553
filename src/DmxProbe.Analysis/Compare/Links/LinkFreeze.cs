using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Compare.Links;

/// <summary>A time in which the far tap went on showing what the near tap had left behind.</summary>
/// <param name="From">When it should have gone on, in the time of the far tap.</param>
/// <param name="To">When it went on: its first frame with other levels.</param>
/// <param name="IsSilent">True where it sent no frames meanwhile; false where it repeated the old ones.</param>
public readonly record struct LinkFreeze(Timestamp From, Timestamp To, bool IsSilent)
{
    /// <summary>How long.</summary>
    public Duration Length => To - From;
}
