using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Universes;

namespace DmxProbe.Analysis.Index;

/// <summary>One sender on one universe of a recording at a moment.</summary>
/// <param name="Sender">Who; its index counts the streams of the recording.</param>
/// <param name="Recent">Its levels and what happened lately.</param>
/// <param name="IsEnded">Whether it had ended its stream.</param>
public sealed record ReviewMoment(SenderSummary Sender, RecentSnapshot Recent, bool IsEnded);
