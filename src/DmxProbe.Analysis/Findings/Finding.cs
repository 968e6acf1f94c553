using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Findings;

/// <summary>
/// One conclusion with its evidence. Rules are pure functions of snapshots; front ends only render. Texts may hold names
/// from packets and files as they came: whoever shows them escapes them.
/// </summary>
public sealed record Finding
{
    /// <summary>Our own kebab-case cause name, for example <c>two-senders-equal-priority</c>.</summary>
    public required string Id { get; init; }

    /// <summary>How much it matters.</summary>
    public required Severity Severity { get; init; }

    /// <summary>What it is about: a universe label, a sender, a file.</summary>
    public required string Subject { get; init; }

    /// <summary>One sentence that a technician understands.</summary>
    public required string Text { get; init; }

    /// <summary>The figure measured, with unit, resolution and how many frames stand behind it; empty when there is none.</summary>
    public string Measured { get; init; } = "";

    /// <summary>The limit it was held against; empty when there is none.</summary>
    public string Limit { get; init; } = "";

    /// <summary>Where the limit is from, and how that is known; empty when there is none.</summary>
    public string LimitSource { get; init; } = "";

    /// <summary>Start of the span that shows it.</summary>
    public Timestamp From { get; init; }

    /// <summary>End of the span that shows it.</summary>
    public Timestamp To { get; init; }

    /// <summary>Number of the first record that shows it; 0 when no single record does.</summary>
    public long FirstRecord { get; init; }

    /// <summary>What to do next; empty when nothing follows.</summary>
    public string Action { get; init; } = "";

    /// <summary>What to mind before doing it (people, moving parts, audience).</summary>
    public IReadOnlyList<string> Cautions { get; init; } = [];
}
