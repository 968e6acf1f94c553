namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>What kind of thing a person says about a light.</summary>
public enum SeenKind
{
    /// <summary>Nothing: they could not tell.</summary>
    Unsure,

    /// <summary>It gives no light.</summary>
    Dark,

    /// <summary>It gives light.</summary>
    Lit,

    /// <summary>It flashes.</summary>
    Flashing,

    /// <summary>It moves: pan or tilt.</summary>
    Moving,

    /// <summary>It reacted just now: the tap key.</summary>
    Tap,

    /// <summary>From here on every reaction is tapped.</summary>
    TapStart,

    /// <summary>Up to here every reaction was tapped.</summary>
    TapEnd,

    /// <summary>An entry of the decision log: what was found, what was left.</summary>
    Log,

    /// <summary>It, or a tool, says what start address it stores.</summary>
    Rdm,
}
