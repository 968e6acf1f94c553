using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Compare.Links;

/// <summary>A time in which the far tap showed levels that the near tap did not send.</summary>
/// <param name="From">First such frame, in the time of the far tap.</param>
/// <param name="To">First frame behind it that is of the near tap again; the last frame where none is.</param>
/// <param name="Frames">Frames in it.</param>
/// <param name="Who">Whose levels they are where another sender of the near tap sent them; empty where none did. Untrusted text.</param>
public sealed record LinkDetour(Timestamp From, Timestamp To, int Frames, string Who);
