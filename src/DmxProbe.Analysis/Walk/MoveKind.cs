namespace DmxProbe.Analysis.Walk;

/// <summary>How much else moved at the same time.</summary>
public enum MoveKind
{
    /// <summary>Nothing else: one fader.</summary>
    Alone,

    /// <summary>The same function of other units with it, and nothing else: a group.</summary>
    Together,

    /// <summary>Other functions with it: a cue. What a person saw cannot be told apart.</summary>
    Cue,
}
