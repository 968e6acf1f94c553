namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>The colours a person has words for.</summary>
public enum SeenColour
{
    /// <summary>Red.</summary>
    Red,

    /// <summary>Amber, orange or yellow.</summary>
    Amber,

    /// <summary>Green.</summary>
    Green,

    /// <summary>Cyan.</summary>
    Cyan,

    /// <summary>Blue.</summary>
    Blue,

    /// <summary>Magenta, pink or violet.</summary>
    Magenta,

    /// <summary>White.</summary>
    White,
}
