using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Locate;

namespace DmxProbe.Analysis.Diagnosis;

/// <summary>A cause that shows in which address and mode a light really reads: an error of a person, by its words.</summary>
/// <param name="card">What is always true of it.</param>
/// <param name="words">What the name of the error holds, one of these; none: an address that no known error explains.</param>
public abstract class LocateCause(CauseCard card, params string[] words) : Cause(card)
{
    // The words of every cause of this kind, so that the one without words takes what is left.
    private static readonly string[] Known =
    [
        "one too high", "one too low", "still at address 1", "in mode", "address switch", "exchanged on the switch bank", "wrong end of the switch bank",
        "digits swapped", "one digit is wrong", "read upside down", "shifted up", "shifted down", "numbered from 0", "off by 16", "plugged into", "has the address of",
    ];

    /// <inheritdoc/>
    public override IEnumerable<CauseReport> Find(DiagnosisCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        foreach (LocatedUnit located in it.Located)
        {
            string error = located.Result.Best?.Error is { Length: > 0 } best ? best : located.Answer.Explanation;
            if (located.Answer.Claim is not (LocateClaim.Found or LocateClaim.Class) || located.Answer.AsTheSheetSays || !IsThis(error, out bool isFirst))
            {
                continue;
            }

            yield return Report(
                !isFirst ? CauseState.Possible : located.Answer.Claim == LocateClaim.Found ? CauseState.Proven : CauseState.Likely,
                located.Unit,
                located.Answer.Sentence,
                [.. located.Answer.Evidence.Select(text => new CauseEvidence(text))]) with
            {
                Severity = Severity.Fault,
                Units = [located.Unit],
                Action = located.Answer.Action,
                Cautions = located.Answer.Cautions,
                Check = new NextCheck(located.Answer.NextStep, 15),
            };
        }
    }

    /// <inheritdoc/>
    public override string? Exclusion(DiagnosisCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        // Each bad unit must be known to read something else than this error would make it read.
        bool all = it.Bad.Count > 0 && it.Bad.All(unit => it.Located.Any(located =>
            located.Unit.Equals(unit, StringComparison.OrdinalIgnoreCase) && located.Answer.Claim is LocateClaim.Found or LocateClaim.Class));
        return !all ? null
            : it.Located.All(located => located.Answer.AsTheSheetSays) ? "The light reads what the sheet says."
            : "The light reads an address that this does not explain.";
    }

    // Where several errors lead to one address the heaviest is named first; the others are possible as well.
    private bool IsThis(string error, out bool isFirst)
    {
        int Place(string word) => error.IndexOf(word, StringComparison.Ordinal) is int at and >= 0 ? at : int.MaxValue;
        int first = Known.Min(Place);
        int own = words.Length > 0 ? words.Min(Place) : first == int.MaxValue ? 0 : int.MaxValue;
        isFirst = words.Length == 0 || own == first;
        return own < int.MaxValue;
    }
}
