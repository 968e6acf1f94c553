namespace DmxProbe.Analysis.Diagnosis;

/// <summary>What is always true of a cause, whatever the case: docs/causes.md prints it.</summary>
/// <param name="Id">Our own kebab-case name.</param>
/// <param name="Group">Where in the rig it sits.</param>
/// <param name="Name">What it is, as a phrase: <c>two senders at the same priority</c>.</param>
public sealed record CauseCard(string Id, CauseGroup Group, string Name)
{
    /// <summary>The sets of inputs of which any one decides it, cheapest first; <see cref="CauseInputs.Person"/> alone where only a person can.</summary>
    public required IReadOnlyList<CauseInputs> Needs { get; init; }

    /// <summary>The test in words, with its thresholds and where they are from.</summary>
    public required string Test { get; init; }

    /// <summary>What to do about it.</summary>
    public required string Fix { get; init; }

    /// <summary>The cheapest check a person can make.</summary>
    public required NextCheck Check { get; init; }

    /// <summary>How often it is met.</summary>
    public CauseFrequency Frequency { get; init; } = CauseFrequency.Sometimes;

    /// <summary>What to mind before acting.</summary>
    public IReadOnlyList<string> Cautions { get; init; } = [];

    /// <summary>What it proves when the inputs that decide it do not show it, one sentence; empty where it proves nothing.</summary>
    public string NotSeen { get; init; } = "";

    /// <summary>Causes that this one brings about where both are seen at one place (<see cref="Id"/>): they then follow from it and stand behind it.</summary>
    public IReadOnlyList<string> Explains { get; init; } = [];

    /// <summary>Causes of which this one is the likely reason where both are seen on one universe (<see cref="Id"/>): it is then told with them.</summary>
    public IReadOnlyList<string> ReasonOf { get; init; } = [];

    /// <summary>What would tell where not seeing it proves nothing.</summary>
    public CauseInputs Missing { get; init; } = CauseInputs.Person;
}
