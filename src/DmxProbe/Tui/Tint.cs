namespace DmxProbe.Tui;

/// <summary>How a row stands out. It repeats what the words say: without colour nothing is lost.</summary>
internal enum Tint
{
    /// <summary>Ordinary text.</summary>
    Plain,

    /// <summary>The line at the top and the keys at the bottom.</summary>
    Frame,

    /// <summary>The row that keys act on; it also begins with a mark.</summary>
    Chosen,

    /// <summary>A large key of a guided screen; it also has an edge.</summary>
    Key,

    /// <summary>A fault; it also says so.</summary>
    Fault,

    /// <summary>A warning; it also says so.</summary>
    Warning,
}
