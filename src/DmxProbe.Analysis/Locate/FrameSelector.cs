using DmxProbe.Analysis.Decoding;

namespace DmxProbe.Analysis.Locate;

/// <summary>Says whether a frame is one to keep.</summary>
/// <param name="frame">The frame.</param>
public delegate bool FrameSelector(in DmxFrame frame);
