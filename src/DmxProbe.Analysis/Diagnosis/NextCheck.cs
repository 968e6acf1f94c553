namespace DmxProbe.Analysis.Diagnosis;

/// <summary>The cheapest thing a person can do to decide a cause.</summary>
/// <param name="Text">What to do and what to look for, as one instruction.</param>
/// <param name="Seconds">About how long it takes; common practice, no source.</param>
/// <param name="Ladder">Whether somebody has to go up to the unit.</param>
public sealed record NextCheck(string Text, int Seconds, bool Ladder = false)
{
    /// <summary>What to mind before doing it, where it is not the check of the cause told first.</summary>
    public IReadOnlyList<string> Cautions { get; init; } = [];
}
