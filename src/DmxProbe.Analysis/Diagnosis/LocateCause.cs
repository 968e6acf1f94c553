using System.Globalization;
using DmxProbe.Analysis.Findings;

namespace DmxProbe.Analysis.Diagnosis;

/// <summary>A cause that shows in which address and mode a light really reads: an error of a person, by its words.</summary>
/// <param name="card">What is always true of it.</param>
/// <param name="words">What the name of the error holds, one of these; none: an address that no known error explains.</param>
public abstract class LocateCause(CauseCard card, params string[] words) : Cause(card)
{
    // Seconds for a look.
    private const int Look = 15;

    // The error where only the universe is known to be another: what a cable does.
    private const string OtherLine = "plugged into";

    // The words of every cause of this kind, so that the one without words takes what is left.
    private static readonly string[] Known =
    [
        "one too high", "one too low", "still at address 1", "in mode", "address switch", "exchanged on the switch bank", "wrong end of the switch bank",
        "digits swapped", "one digit is wrong", "read upside down", "shifted up", "shifted down", "numbered from 0", "off by 16", OtherLine, "has the address of",
    ];

    /// <inheritdoc/>
    public override IEnumerable<CauseReport> Find(DiagnosisCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        foreach (LocatedUnit located in it.Located)
        {
            if (LocatedStories.Of(located, it).FirstOrDefault(story => IsThis(ErrorOf(story, located, it))) is { } story)
            {
                yield return Told(located, story, it);
            }
        }
    }

    /// <inheritdoc/>
    public override string? Exclusion(DiagnosisCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        // Each bad unit must be known to read something else than this error would make it read.
        return !LocatedStories.SettlesBad(it) ? null
            : it.Located.All(located => located.Answer.AsTheSheetSays) ? "The light reads what the sheet says."
            : "The light reads an address that this does not explain.";
    }

    /// <summary>Whether an error is this one.</summary>
    /// <param name="error">The error as locating words it; empty where no known error leads there.</param>
    public bool IsThis(string error)
    {
        ArgumentNullException.ThrowIfNull(error);
        // A name of a unit or a mode stands behind the words of its error, and may hold those of another.
        int Place(string word) => error.IndexOf(word, StringComparison.Ordinal) is int at and >= 0 ? at : int.MaxValue;
        int first = Known.Min(Place);
        return words.Length == 0 ? first == int.MaxValue : first < int.MaxValue && words.Min(Place) == first;
    }

    // Where no known error leads to the place, and it is on another universe, no address is what is wrong first.
    private static string ErrorOf(LocatedStory story, LocatedUnit located, DiagnosisCase it) =>
        story.Error.Length == 0 && LocatedStories.IsElsewhere(story.Place, located.Unit, it) ? OtherLine : story.Error;

    private CauseReport Told(LocatedUnit located, LocatedStory story, DiagnosisCase it)
    {
        CauseReport report = Report(story.State, located.Unit, located.Answer.Sentence) with
        {
            Severity = story.IsSure ? Severity.Fault : Severity.Warning,
            Units = [located.Unit],
            Cautions = located.Answer.Cautions,
            Check = new NextCheck(located.Answer.NextStep, Look),
            Lean = story.Lean,
        };
        if (story.State != CauseState.Possible)
        {
            return report with { Action = located.Answer.Action, Evidence = [.. located.Answer.Evidence.Select(text => new CauseEvidence(text))] };
        }

        string place = LocatedStories.Words(story.Place, located.Unit, it);
        string error = story.Error.Length > 0 ? story.Error : "no known error leads there";
        return located.Answer.IsClaim
            ? report with { Text = $"{located.Unit} at {place} is explained by this too: {error}", Action = located.Answer.Action }
            : report with
            {
                Text = $"{located.Unit} may read {place}: {error}",
                Action = $"If it reads {place}: {Then(story, located, it)}",
                Cautions = [.. Card.Cautions.Union(located.Answer.Cautions).Union(LocatedStories.IsElsewhere(story.Place, located.Unit, it) ? [Caution.Unplugging] : [])],
            };
    }

    private string Then(LocatedStory story, LocatedUnit located, DiagnosisCase it)
    {
        string fix = $"{char.ToLowerInvariant(Card.Fix[0])}{Card.Fix[1..]}";
        return !LocatedStories.IsElsewhere(story.Place, located.Unit, it) || it.Unit(located.Unit)?.Watched.Unit is not { } sheet ? fix
            : string.Create(
                CultureInfo.InvariantCulture,
                $"first bring it to universe {sheet.Universe} (its line into the output of that universe; a unit that takes the network itself is set to it); an address alone would leave it on the other universe.{(Error(story) ? " Then " + fix : "")}");

        // On another line the card says the same again.
        static bool Error(LocatedStory story) => story.Error.Length > 0 && !story.Error.StartsWith(OtherLine, StringComparison.Ordinal);
    }
}
