namespace DmxProbe.Fixtures.Gdtf;

/// <summary>Whether what a function depends on can be seen in the slots.</summary>
internal enum GdtfConditionState
{
    /// <summary>By a slot of the same break.</summary>
    Slot,

    /// <summary>By a channel without a slot, whose default is in the range.</summary>
    Always,

    /// <summary>By a channel without a slot, whose default is outside.</summary>
    Never,

    /// <summary>By something the mode does not have.</summary>
    Unclear,
}
