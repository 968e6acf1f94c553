using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Findings;

namespace DmxProbe.Analysis.Diagnosis;

/// <summary>What was found out about one cause at one place. Texts may hold names as they came: whoever shows them escapes them.</summary>
public sealed record CauseReport
{
    /// <summary>The cause.</summary>
    public required Cause Cause { get; init; }

    /// <summary>What the inputs say.</summary>
    public required CauseState State { get; init; }

    /// <summary>How much it matters where it is proven or likely.</summary>
    public Severity Severity { get; init; } = Severity.Fault;

    /// <summary>What it is about: a universe, a sender, a unit, a line; empty for the whole input.</summary>
    public string Subject { get; init; } = "";

    /// <summary>One sentence: what is, why it is excluded, or what is missing to tell.</summary>
    public required string Text { get; init; }

    /// <summary>What shows it.</summary>
    public IReadOnlyList<CauseEvidence> Evidence { get; init; } = [];

    /// <summary>Units it touches, as the sheet names them; empty where it names none.</summary>
    public IReadOnlyList<string> Units { get; init; } = [];

    /// <summary>The universe it touches, with every unit on it; null where it touches none as a whole.</summary>
    public UniverseId? Universe { get; init; }

    /// <summary>What to do about it here; empty = what the cause says in general.</summary>
    public string Action { get; init; } = "";

    /// <summary>What to mind here; empty = what the cause says in general.</summary>
    public IReadOnlyList<string> Cautions { get; init; } = [];

    /// <summary>The cheapest check here; null = what the cause says in general.</summary>
    public NextCheck? Check { get; init; }

    /// <summary>For <see cref="CauseState.CannotTell"/>: the input that would tell.</summary>
    public CauseInputs Missing { get; init; }

    /// <summary>The cause from which this one follows here (<see cref="Cause.Id"/>); empty where it stands by itself.</summary>
    public string FollowsFrom { get; init; } = "";

    /// <summary>Another report that is the likely reason of this one; null where there is none.</summary>
    public CauseReport? Reason { get; init; }

    /// <summary>The cause of which this is told as the likely reason (<see cref="Cause.Id"/>); empty where it stands by itself.</summary>
    public string ReasonOf { get; init; } = "";

    /// <summary>
    /// Whether it touches a unit that was called bad; null where the inputs do not say which units it touches, or no unit was
    /// called bad. A cause that touches none of them is a fault elsewhere on the rig, not what is wrong with them.
    /// </summary>
    public bool? TouchesBad { get; init; }

    /// <summary>Whether it is asked before all else: where it is so, nothing that is said of the units holds.</summary>
    public bool IsAskedFirst { get; init; }

    /// <summary>How far its own evidence puts it behind another report of the same evidence, 0 or below; a log of odds.</summary>
    public double Lean { get; init; }

    /// <summary>Its place in the order: higher first. Log of an odds, without unit.</summary>
    public double Score { get; init; }

    /// <summary>What to do, here or in general.</summary>
    public string WhatToDo => Action.Length > 0 ? Action : Cause.Card.Fix;

    /// <summary>What to mind, here or in general.</summary>
    public IReadOnlyList<string> WhatToMind => Cautions.Count > 0 ? Cautions : Cause.Card.Cautions;

    /// <summary>The check, here or in general.</summary>
    public NextCheck WhatToCheck => Check ?? Cause.Card.Check;
}
