namespace DmxProbe.Analysis.Compare.Nights;

/// <summary>
/// What kind of difference, in the order in which they are told: first what leaves light out, then who else is in command, then
/// units and cues, then what shows only in how it is sent.
/// </summary>
public enum NightDifferenceKind
{
    /// <summary>A universe of last night that nobody sends tonight.</summary>
    UniverseMissing,

    /// <summary>A sender of last night that is not there tonight.</summary>
    SenderMissing,

    /// <summary>Another number of slots.</summary>
    SlotCount,

    /// <summary>Another priority.</summary>
    Priority,

    /// <summary>A sender that was not there last night.</summary>
    SenderNew,

    /// <summary>A unit whose slots moved last night and never move tonight.</summary>
    UnitStill,

    /// <summary>A cue of last night that did not come tonight.</summary>
    CueMissing,

    /// <summary>Levels of a look that stand elsewhere.</summary>
    Levels,

    /// <summary>A unit whose slots move tonight and did not last night.</summary>
    UnitMovesNow,

    /// <summary>Packets lost that were not lost last night.</summary>
    Loss,

    /// <summary>A cue that there was not last night.</summary>
    CueExtra,

    /// <summary>Another rate.</summary>
    Rate,

    /// <summary>A universe that nobody sent last night.</summary>
    UniverseNew,
}
