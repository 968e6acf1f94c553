namespace DmxProbe.Analysis.Diagnosis.Units;

/// <summary>What a unit is told by its slots at one moment, as far as it explains a complaint.</summary>
[Flags]
public enum UnitConditions
{
    /// <summary>None of these.</summary>
    None = 0,

    /// <summary>It is told to give no light.</summary>
    Dark = 1,

    /// <summary>A colour is up but its dimmer is 0.</summary>
    MasterDown = 2,

    /// <summary>Dimmer and colours (those it has) are up but the shutter is closed.</summary>
    ShutterShut = 4,

    /// <summary>The shutter is in a strobe range and there is light to strobe.</summary>
    StrobeRuns = 8,

    /// <summary>The shutter is in a strobe range but nothing is up.</summary>
    StrobeWithoutLight = 16,

    /// <summary>A macro or preset slot has the say while colours are sent.</summary>
    ColoursOverridden = 32,

    /// <summary>A programme, sound or automatic range is chosen.</summary>
    ProgrammeRuns = 64,

    /// <summary>A reset, lamp or control range is chosen.</summary>
    ControlAction = 128,

    /// <summary>The dimmer is up but every colour is 0.</summary>
    ColoursDown = 256,

    /// <summary>Light is up but something in the beam is closed.</summary>
    BeamClosed = 512,

    /// <summary>Any slot is at a value the chart does not explain.</summary>
    NotUnderstood = 1024,
}
