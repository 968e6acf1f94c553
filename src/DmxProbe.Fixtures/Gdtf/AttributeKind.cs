namespace DmxProbe.Fixtures.Gdtf;

/// <summary>How the ranges of a GDTF attribute are taken.</summary>
internal enum AttributeKind
{
    /// <summary>Not in the table of attributes: dangerous.</summary>
    Unknown,

    /// <summary>Does nothing.</summary>
    Nothing,

    /// <summary>An amount of light of a colour or of all.</summary>
    Amount,

    /// <summary>A shutter that is open or closed.</summary>
    Shutter,

    /// <summary>Flashes at a rate.</summary>
    Strobe,

    /// <summary>A setting or an amount that stays: position, wheel, zoom.</summary>
    Steady,

    /// <summary>Chooses one of several things: a gobo, a filter, a prism.</summary>
    Select,

    /// <summary>A programme, an effect, a sound mode.</summary>
    Programme,

    /// <summary>A speed or a time of something else.</summary>
    Speed,

    /// <summary>A setting of the fixture itself.</summary>
    Setting,

    /// <summary>Reset, lamp, calibration.</summary>
    Action,

    /// <summary>Can hurt.</summary>
    Hazard,
}
