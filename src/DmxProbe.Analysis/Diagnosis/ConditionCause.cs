using System.Globalization;
using DmxProbe.Analysis.Diagnosis.Units;
using DmxProbe.Analysis.Findings;
using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Analysis.Diagnosis;

/// <summary>A cause that a unit's own slots show: it is told to be dark, to flash, to run a programme.</summary>
/// <param name="card">What is always true of it.</param>
/// <param name="condition">What it is told.</param>
/// <param name="leastSeconds">How long in one piece it must hold, seconds.</param>
/// <param name="mostly">How much of the time it must hold to be likely, 0 to 1; 0 = once is enough.</param>
/// <param name="roles">Which slots say so, for the evidence.</param>
public abstract class ConditionCause(CauseCard card, UnitConditions condition, double leastSeconds, double mostly, params SlotRole[] roles) : Cause(card)
{
    private const int MostSlotsTold = 4;

    /// <inheritdoc/>
    public override IEnumerable<CauseReport> Find(DiagnosisCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        List<(UnitActivity Unit, ConditionSpan Span)> shown = [];
        foreach (UnitActivity unit in it.BadUnits)
        {
            ConditionSpan span = unit.Of(condition);
            if (span.Condition == condition && span.Longest.TotalSeconds >= Math.Min(leastSeconds, unit.Followed.TotalSeconds) && Applies(unit))
            {
                shown.Add((unit, span));
            }
        }

        if (shown.Count == 0)
        {
            yield break;
        }

        (UnitActivity first, ConditionSpan held) = shown.MaxBy(pair => pair.Span.Total);
        double share = first.Followed.TotalSeconds > 0 ? held.Total.TotalSeconds / first.Followed.TotalSeconds : 1;
        bool likely = share >= mostly;
        string who = shown.Count == 1 ? first.Watched.Unit.Unit : Say($"{first.Watched.Unit.Unit} and {shown.Count - 1} more");
        yield return Report(
            likely ? CauseState.Likely : CauseState.Possible,
            first.Watched.Unit.Unit,
            $"{who}: {Phrase}{Slots(first)}; it holds {Say($"{held.Total.TotalSeconds:0.#} s of {first.Followed.TotalSeconds:0.#} s")}.",
            [.. shown.Take(MostSlotsTold).Select(pair => Evidence(pair.Unit, pair.Span))]) with
        {
            Severity = likely ? Severity.Fault : Severity.Warning,
            Units = [.. shown.Select(pair => pair.Unit.Watched.Unit.Unit)],
        };
    }

    /// <inheritdoc/>
    public override string? Exclusion(DiagnosisCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        return it.BadUnits.Any() && it.BadUnits.All(unit => unit is { IsSent: true, Watched.Mode: not null })
            ? Say($"The slots of the bad {(it.Bad.Count == 1 ? "unit" : "units")} never say so for {leastSeconds:0.#} s.")
            : null;
    }

    /// <summary>What it is, as the end of a sentence about the unit.</summary>
    protected abstract string Phrase { get; }

    /// <summary>A further test.</summary>
    protected virtual bool Applies(UnitActivity unit) => true;

    // The slots that say so, with the value they hold at the end.
    private string Slots(UnitActivity unit)
    {
        if (unit.Watched.Mode is not { } mode)
        {
            return "";
        }

        string[] told =
        [
            .. mode.Slots.Where(slot => roles.Contains(slot.Role) && slot.Slot <= unit.Slots.Count).Take(MostSlotsTold)
                .Select(slot => Say($"{slot.Function} {unit.Watched.Unit.Universe}.{unit.Watched.Unit.Address + slot.Slot - 1:000} at {unit.Slots[slot.Slot - 1].Value}")),
        ];
        return told.Length == 0 ? "" : $" ({string.Join(", ", told)} at the end)".Replace(" at the end)", told.Length == 1 ? " at the end)" : ")", StringComparison.Ordinal);
    }

    private static CauseEvidence Evidence(UnitActivity unit, ConditionSpan span) =>
        new(Say($"{unit.Watched.Unit.Unit}: {span.Total.TotalSeconds:0.#} s together, {span.Longest.TotalSeconds:0.#} s in one piece{(span.HeldAtEnd ? ", and at the end" : "")}"))
        {
            Measured = Say($"{span.Total.TotalSeconds:0.#} s"),
            From = span.First,
            To = span.First + span.Longest,
        };

    private static string Say(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
