namespace DmxProbe.Analysis.Locate;

/// <summary>What the inference dares to say.</summary>
public enum LocateClaim
{
    /// <summary>One hypothesis.</summary>
    Found,

    /// <summary>One class of hypotheses that nothing in the capture can tell apart.</summary>
    Class,

    /// <summary>One of a few.</summary>
    OneOf,

    /// <summary>Not enough evidence yet.</summary>
    NotEnough,

    /// <summary>The light changes, and nothing that was captured explains it.</summary>
    NothingExplains,
}
