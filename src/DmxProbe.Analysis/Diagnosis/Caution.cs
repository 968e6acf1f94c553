namespace DmxProbe.Analysis.Diagnosis;

/// <summary>What to mind before acting; local codes and licensed practice come first.</summary>
public static class Caution
{
    /// <summary>Before a sender is silenced.</summary>
    public const string Silencing = "Before a sender is silenced: people clear of moving parts, work light on; the look can change at once.";

    /// <summary>Before a unit is set to another address or mode, or switched off and on.</summary>
    public const string Setting = "Before a unit is set to another address or mode or switched off and on: people clear; it will move or strike.";

    /// <summary>Before a line is unplugged.</summary>
    public const string Unplugging = "Before a line is unplugged: people clear of moving parts, nothing hung moving, work light on; units may move or go dark when their data stops.";

    /// <summary>Before something is raised, opened or moved at the controller.</summary>
    public const string Raising = "Before anything is raised, opened or moved: nobody at a unit that moves, nobody on a ladder under it; raise slowly, it may flash or strike.";

    /// <summary>When levels that were missing or held come through again.</summary>
    public const string Returning = "When levels come back, lights jump to them: people clear of moving parts.";

    /// <summary>Anything on a ladder.</summary>
    public const string Ladder = "Work at height only by those trained for it, with the unit at rest.";

    /// <summary>Mains.</summary>
    public const string Mains = "Work on mains is for licensed people; local codes prevail.";
}
