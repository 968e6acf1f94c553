namespace DmxProbe.Tui;

/// <summary>The keys that the screen knows.</summary>
internal enum KeyKind
{
    /// <summary>A character.</summary>
    Letter,

    /// <summary>One row up.</summary>
    Up,

    /// <summary>One row down.</summary>
    Down,

    /// <summary>A page up.</summary>
    PageUp,

    /// <summary>A page down.</summary>
    PageDown,

    /// <summary>Enter.</summary>
    Enter,

    /// <summary>Left.</summary>
    Left,

    /// <summary>Right.</summary>
    Right,

    /// <summary>To the start.</summary>
    Home,

    /// <summary>To the end.</summary>
    End,

    /// <summary>Esc: back.</summary>
    Back,

    /// <summary>Backspace: takes the last typed character away.</summary>
    Erase,
}
