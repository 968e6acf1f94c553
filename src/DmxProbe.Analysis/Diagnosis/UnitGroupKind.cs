namespace DmxProbe.Analysis.Diagnosis;

/// <summary>By what bad units may belong together.</summary>
public enum UnitGroupKind
{
    /// <summary>All told the same by their slots: to strobe, to be dark, to run a programme.</summary>
    Told,

    /// <summary>All changed within the same seconds.</summary>
    Moment,

    /// <summary>All behind one place of a cable chain.</summary>
    ChainTail,

    /// <summary>All of one cable chain.</summary>
    Chain,

    /// <summary>All above one address of a universe.</summary>
    HighSlots,

    /// <summary>All on one universe.</summary>
    Universe,

    /// <summary>All of one type and mode.</summary>
    Model,

    /// <summary>All on one mains circuit.</summary>
    Circuit,

    /// <summary>All on one radio link.</summary>
    Wireless,

    /// <summary>All at one position.</summary>
    Position,

    /// <summary>All with one function, or with a function that moves or stands at one value.</summary>
    Function,
}
