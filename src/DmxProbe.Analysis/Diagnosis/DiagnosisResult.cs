namespace DmxProbe.Analysis.Diagnosis;

/// <summary>A diagnosis: every cause with what the inputs say about it.</summary>
public sealed record DiagnosisResult
{
    /// <summary>What was at hand.</summary>
    public required CauseInputs Inputs { get; init; }

    /// <summary>What to do before anything else, where what was said can hurt; <see cref="Sentence"/> begins with it. Empty where it cannot.</summary>
    public string Safety => Symptom?.Safety ?? "";

    /// <summary>The answer in one sentence, after what is to be made safe first.</summary>
    public required string Sentence { get; init; }

    /// <summary>The cause to act on: the first of <see cref="Ranked"/> that is a fault or a warning and touches, or may touch, a bad unit; null when there is none.</summary>
    public CauseReport? First { get; init; }

    /// <summary>The first fork for each bad unit.</summary>
    public IReadOnlyList<ForkAnswer> Forks { get; init; } = [];

    /// <summary>What the bad units share, best first.</summary>
    public IReadOnlyList<UnitGroup> Groups { get; init; } = [];

    /// <summary>The symptom index entry for what was said; null when none fits.</summary>
    public Symptom? Symptom { get; init; }

    /// <summary>Causes that are proven, likely or possible, the one to act on first.</summary>
    public required IReadOnlyList<CauseReport> Ranked { get; init; }

    /// <summary>Causes that these inputs exclude.</summary>
    public required IReadOnlyList<CauseReport> Excluded { get; init; }

    /// <summary>Causes that these inputs cannot tell, most frequent first.</summary>
    public required IReadOnlyList<CauseReport> CannotTell { get; init; }

    /// <summary>What only a person can see, cheapest first, without a ladder first.</summary>
    public IReadOnlyList<DiagnosisQuestion> Questions { get; init; } = [];

    /// <summary>The cheapest next check; null when nothing is left to check.</summary>
    public NextCheck? Next { get; init; }

    /// <summary>What to mind before acting on the first cause or the next check.</summary>
    public IReadOnlyList<string> Cautions { get; init; } = [];
}
