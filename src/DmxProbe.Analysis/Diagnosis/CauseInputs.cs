namespace DmxProbe.Analysis.Diagnosis;

/// <summary>What is at hand, and what a cause needs.</summary>
[Flags]
public enum CauseInputs
{
    /// <summary>Nothing.</summary>
    None = 0,

    /// <summary>Art-Net or sACN as it arrived at a network interface.</summary>
    Network = 1,

    /// <summary>A logic-level recording of a DMX512 line.</summary>
    Line = 2,

    /// <summary>Packets of a DMX512 line as a serial interface passed them on.</summary>
    Serial = 4,

    /// <summary>A patch sheet, with charts.</summary>
    Sheet = 8,

    /// <summary>Which units are bad, as a person says.</summary>
    BadUnits = 16,

    /// <summary>What a unit's light did: a trace, looks or taps.</summary>
    Light = 32,

    /// <summary>RDM replies.</summary>
    Rdm = 64,

    /// <summary>Two places at the same time: network and line, two places of a line, or of a network.</summary>
    TwoTaps = 128,

    /// <summary>A person who goes and looks.</summary>
    Person = 256,

    /// <summary>Levels of universes of the sheet: a network capture, or a line or serial port that is named with the map.</summary>
    Levels = 512,

    /// <summary>A longer capture.</summary>
    Longer = 1024,

    /// <summary>More of a light that was measured and does not suffice.</summary>
    MoreLight = 2048,
}
