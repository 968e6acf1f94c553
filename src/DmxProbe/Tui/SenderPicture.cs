using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Universes;

namespace DmxProbe.Tui;

/// <summary>One sender on one universe at one moment.</summary>
/// <param name="Stream">What the survey knows.</param>
/// <param name="Name">What it is called; untrusted text.</param>
/// <param name="Obeyed">True when it decides the universe, alone or with others.</param>
/// <param name="Recent">Levels and what happened lately; null when it sent no levels.</param>
internal sealed record SenderPicture(StreamSummary Stream, string Name, bool Obeyed, RecentSnapshot? Recent);
