namespace DmxProbe.Capture.Recording;

/// <summary>What stands on the list of a run; untrusted.</summary>
/// <param name="Names">Its segments, oldest first.</param>
/// <param name="Started">When it began, as written.</param>
/// <param name="IsEnded">Whether it ended as it should.</param>
internal sealed record RunListing(IReadOnlyList<string> Names, string Started, bool IsEnded);
