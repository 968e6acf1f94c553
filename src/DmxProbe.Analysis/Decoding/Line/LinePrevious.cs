namespace DmxProbe.Analysis.Decoding.Line;

/// <summary>What the next packet needs to know of the one before it.</summary>
/// <param name="Kind">What it was.</param>
/// <param name="WantsAnswer">True where it asked one device for an answer.</param>
/// <param name="IsDiscovery">True where it was DISC_UNIQUE_BRANCH.</param>
internal readonly record struct LinePrevious(LinePacketKind Kind, bool WantsAnswer, bool IsDiscovery);
