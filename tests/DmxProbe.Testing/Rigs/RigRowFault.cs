namespace DmxProbe.Testing.Rigs;

/// <summary>What is wrong with a row of units.</summary>
public enum RigRowFault
{
    /// <summary>Nothing.</summary>
    None,

    /// <summary>One unit takes more or fewer slots than the sheet says, and all behind it were addressed after it.</summary>
    Shifted,

    /// <summary>Each unit may have an error of its own, one in five has; no common cause.</summary>
    OwnErrors,

    /// <summary>All units read one slot high.</summary>
    AllOneHigh,
}
