namespace DmxProbe.Testing.HarbourHall;

/// <summary>What is wrong tonight.</summary>
[Flags]
public enum HarbourHallFaults
{
    /// <summary>A healthy night.</summary>
    None = 0,

    /// <summary>LX1-6 reads 1.016 and not 1.061.</summary>
    DigitsSwapped = 1,

    /// <summary>An old laptop still sends sACN 2 at priority 100.</summary>
    OldLaptop = 2,

    /// <summary>The stage-left gateway's line is short on mark after break.</summary>
    ShortMark = 4,

    /// <summary>Everything that is wrong in the recording that ships.</summary>
    All = DigitsSwapped | OldLaptop | ShortMark,
}
