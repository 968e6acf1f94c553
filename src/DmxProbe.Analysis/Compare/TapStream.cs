using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;

namespace DmxProbe.Analysis.Compare;

/// <summary>The level frames of one sender on one universe at one tap.</summary>
/// <param name="Universe">The universe.</param>
/// <param name="Sender">Who sent them; for a line or serial port, the port.</param>
/// <param name="Frames">In order of time.</param>
public sealed record TapStream(UniverseId Universe, SenderSummary Sender, IReadOnlyList<TapFrame> Frames);
