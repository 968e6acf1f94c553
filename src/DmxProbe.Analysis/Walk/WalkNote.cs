using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Walk;

/// <summary>What a person said: from this time on they were working on this unit, or, with an answer, that they were through with it.</summary>
/// <param name="Time">When.</param>
/// <param name="Unit">The unit's name; untrusted text.</param>
/// <param name="Look">What they saw: <see cref="AllRight"/>, <see cref="NotRight"/>, or anything else; untrusted text.</param>
public readonly record struct WalkNote(Timestamp Time, string Unit, string Look = "")
{
    /// <summary>The person turned to the unit.</summary>
    public const string WorkedOn = "worked on";

    /// <summary>It did what it should.</summary>
    public const string AllRight = "all right";

    /// <summary>It did not.</summary>
    public const string NotRight = "not right";
}
