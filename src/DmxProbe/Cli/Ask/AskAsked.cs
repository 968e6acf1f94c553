using DmxProbe.Analysis.Locate.Ask;

namespace DmxProbe.Cli.Ask;

/// <summary>What evidence beside a trace is asked for.</summary>
/// <param name="Notes">Files of notes by name, those that must be there.</param>
/// <param name="Log">The decision log; null = none.</param>
/// <param name="Zone">The zone of times of day.</param>
/// <param name="Taps">Taps while the capture ran; empty = none.</param>
/// <param name="Questions">Asks the guided questions; null = none are asked.</param>
internal sealed record AskAsked(
    IReadOnlyList<string> Notes,
    AskLog? Log,
    TimeZoneInfo Zone,
    TapKeys? Taps,
    Func<LocateGathered, AskSession?>? Questions)
{
    /// <summary>No evidence beside the trace and what the capture holds itself.</summary>
    public static AskAsked Nothing { get; } = new([], null, TimeZoneInfo.Utc, null, null);
}
