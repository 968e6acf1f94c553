namespace DmxProbe.Fixtures.Charts;

/// <summary>What a range of values of a slot does, as far as the light model needs it.</summary>
public enum RangeEffect
{
    /// <summary>Proportional: more value, more of the slot's function.</summary>
    Proportional,

    /// <summary>Lets light through (shutter open).</summary>
    Open,

    /// <summary>No light (shutter closed).</summary>
    Closed,

    /// <summary>Flashing; the light is on average present but not predictable from frame to frame.</summary>
    Flashing,

    /// <summary>No function: the slot has no say while it is here.</summary>
    NoFunction,

    /// <summary>A programme, sound or automatic mode runs: the fixture is not predictable.</summary>
    ProgrammeRuns,

    /// <summary>Reset, lamp on or off, calibration.</summary>
    ControlAction,

    /// <summary>One setting of the slot's function for all values of the range: a gobo, a filter, a position.</summary>
    Fixed,

    /// <summary>Not understood: dangerous.</summary>
    Unknown,
}
