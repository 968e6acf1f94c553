namespace DmxProbe.Fixtures.Patch;

/// <summary>What a column of a patch sheet may hold.</summary>
public enum PatchColumn
{
    /// <summary>Name or number of the unit.</summary>
    Unit,

    /// <summary>Type of the fixture.</summary>
    Type,

    /// <summary>Mode the unit is in.</summary>
    Mode,

    /// <summary>Universe, by the sheet's own numbering.</summary>
    Universe,

    /// <summary>Start address, alone or with the universe.</summary>
    Address,

    /// <summary>Where the unit hangs.</summary>
    Position,

    /// <summary>Cable chain.</summary>
    Chain,

    /// <summary>Place within the chain.</summary>
    Order,

    /// <summary>Mains circuit.</summary>
    Circuit,

    /// <summary>Units that share the address on purpose.</summary>
    SharesWith,

    /// <summary>Group of the radio link.</summary>
    Wireless,

    /// <summary>How many slots the unit takes, as the sheet says.</summary>
    Footprint,

    /// <summary>Function of one slot, on sheets with a line for each slot.</summary>
    Function,

    /// <summary>A note.</summary>
    Note,
}
