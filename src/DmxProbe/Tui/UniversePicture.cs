using DmxProbe.Analysis.Arbitration;
using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Survey;

namespace DmxProbe.Tui;

/// <summary>One universe at one moment.</summary>
/// <param name="Summary">What the survey knows.</param>
/// <param name="Worst">Its worst finding; null when it has none.</param>
/// <param name="Lazily">Who sends it, looked up when a view asks.</param>
internal sealed record UniversePicture(UniverseSummary Summary, Finding? Worst, Lazy<IReadOnlyList<SenderPicture>> Lazily)
{
    /// <summary>Who sends it, whoever is obeyed first.</summary>
    public IReadOnlyList<SenderPicture> Senders => Lazily.Value;

    /// <summary>The same with the age of each slot, where that is looked up apart; null where it is not.</summary>
    public Lazy<IReadOnlyList<SenderPicture>>? InDetail { get; init; }

    /// <summary>Who decides which slots at a moment of a recording; null where the survey tells it.</summary>
    public Lazy<IReadOnlyList<WinnerRange>?>? Deciding { get; init; }

    /// <summary>Who decides which slots; empty where one sender is alone; null where it is not known slot by slot.</summary>
    public IReadOnlyList<WinnerRange>? Winners => Deciding is { } then ? then.Value : Summary.Arbitration?.Winners ?? [];

    /// <summary>Severity for sorting: -1 when nothing was found.</summary>
    public int Trouble => Worst is null ? -1 : (int)Worst.Severity;
}
