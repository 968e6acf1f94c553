namespace DmxProbe.Testing.Rigs;

/// <summary>What the light of a rig really follows.</summary>
public enum RigTruth
{
    /// <summary>An address by the errors of trade.md 3.2, or any.</summary>
    Captured,

    /// <summary>A captured address that is not on the inference's list of human errors.</summary>
    OutsideTheList,

    /// <summary>A captured address whose light changes fewer than three times.</summary>
    FewChanges,

    /// <summary>Nothing captured: another show.</summary>
    AnotherShow,

    /// <summary>Nothing captured: its own periodic programme.</summary>
    OwnProgramme,

    /// <summary>Nothing captured: the same cues, from a universe that was not captured.</summary>
    SameCues,
}
