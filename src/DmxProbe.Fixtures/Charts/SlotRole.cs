namespace DmxProbe.Fixtures.Charts;

/// <summary>What a slot of a fixture does. Anything not understood is <see cref="Unknown"/> and treated as dangerous.</summary>
public enum SlotRole
{
    /// <summary>Not understood: shown verbatim, treated as dangerous, never part of a suggested look.</summary>
    Unknown,

    /// <summary>Said to do nothing.</summary>
    None,

    /// <summary>Overall intensity (dimmer).</summary>
    Intensity,

    /// <summary>Red emitter or additive red.</summary>
    Red,

    /// <summary>Green emitter or additive green.</summary>
    Green,

    /// <summary>Blue emitter or additive blue.</summary>
    Blue,

    /// <summary>White emitter.</summary>
    White,

    /// <summary>Amber emitter.</summary>
    Amber,

    /// <summary>Ultraviolet emitter: no visible light in the model.</summary>
    UltraViolet,

    /// <summary>Shutter or strobe; the ranges say open, closed, strobe.</summary>
    Shutter,

    /// <summary>Pan, tilt or another movement.</summary>
    Position,

    /// <summary>Colour macro, preset or built-in programme; overrides the mixing slots while it runs.</summary>
    Programme,

    /// <summary>Speed of a programme, a movement or a fade.</summary>
    Speed,

    /// <summary>Control: reset, lamp, calibration.</summary>
    Control,

    /// <summary>Low byte of another slot.</summary>
    Fine,

    /// <summary>Beam: zoom, focus, iris, gobo, frost, prism.</summary>
    Beam,

    /// <summary>Emitter of another colour (lime, additive cyan, indigo): while it is lit the light is not predictable.</summary>
    OtherEmitter,

    /// <summary>Can hurt: fog, haze, flame, pyro, laser, hoist, motor, confetti, CO2.</summary>
    Hazard,
}
