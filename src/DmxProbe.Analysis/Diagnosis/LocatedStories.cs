using System.Globalization;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Locate;
using DmxProbe.Fixtures.Patch;

namespace DmxProbe.Analysis.Diagnosis;

/// <summary>
/// What may have been done wrong where a light was located: every known error that leads to a place which the light allows,
/// likeliest place first, and for one place the heavier error first. The light tells places apart, never two errors that lead
/// to one place.
/// </summary>
public static class LocatedStories
{
    // A further error for the same place, after the heavier one; and how far behind the least likely one may stand.
    private const double FurtherError = -1.5;
    private const double LeastLean = -6;

    // A light that does not suffice for a claim may have a favourite: likelier than all other places together, and it leaves
    // little of the light unexplained.
    private const double FavouriteScore = 0.5;
    private const double FavouriteUnexplained = 0.02;
    private const int MostFavourites = 6;

    /// <summary>The stories of a unit; none where it reads what the sheet says, or the light says nothing.</summary>
    /// <param name="located">What locating found.</param>
    /// <param name="it">The case.</param>
    public static IReadOnlyList<LocatedStory> Of(LocatedUnit located, DiagnosisCase it)
    {
        ArgumentNullException.ThrowIfNull(located);
        ArgumentNullException.ThrowIfNull(it);
        IReadOnlyList<LocateCandidate> places = Places(located);
        if (places.Count == 0 || located.Answer.AsTheSheetSays)
        {
            return [];
        }

        PatchUnit? sheet = it.Unit(located.Unit)?.Watched.Unit;
        bool isSure = located.Answer.Claim != LocateClaim.NotEnough && !places.Any(place => IsSheet(place, sheet, it));
        double most = places.Max(place => place.Score);
        LocatedStory[] stories =
        [
            .. places.Where(place => !IsSheet(place, sheet, it))
                .SelectMany(place => Errors(place).Select((error, further) => new LocatedStory(
                    place, error, Math.Max(LeastLean, Math.Log(Math.Max(place.Score, double.Epsilon) / most) + (further * FurtherError)), CauseState.Possible, isSure)))
                .OrderByDescending(story => story.Lean),
        ];
        if (stories.Length > 0 && located.Answer.IsClaim)
        {
            stories[0] = stories[0] with { State = located.Answer.Claim == LocateClaim.Found ? CauseState.Proven : CauseState.Likely };
        }

        return stories;
    }

    /// <summary>A sentence on the likeliest place of a light that does not suffice for a claim; empty where it has no favourite.</summary>
    /// <param name="located">What locating found.</param>
    /// <param name="it">The case.</param>
    public static string Likeliest(LocatedUnit located, DiagnosisCase it)
    {
        ArgumentNullException.ThrowIfNull(located);
        ArgumentNullException.ThrowIfNull(it);
        if (located.Answer.Claim != LocateClaim.NotEnough || Places(located) is not [LocateCandidate only])
        {
            return "";
        }

        bool isSheet = IsSheet(only, it.Unit(located.Unit)?.Watched.Unit, it);
        return $"The likeliest place is {Words(only, located.Unit, it)}{(isSheet ? ", as the sheet says" : only.Error.Length > 0 ? $" ({only.Error})" : "")}.";
    }

    /// <summary>Whether the light says of each bad unit where it may be reading, and nowhere else.</summary>
    /// <param name="it">The case.</param>
    public static bool SettlesBad(DiagnosisCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        return it.Bad.Count > 0 && it.Bad.All(unit => it.Located.Any(located =>
            located.Unit.Equals(unit, StringComparison.OrdinalIgnoreCase) && located.Answer.Claim is LocateClaim.Found or LocateClaim.Class or LocateClaim.OneOf));
    }

    /// <summary>Whether a place is on another universe than the sheet has the unit on: no setting of an address mends that.</summary>
    /// <param name="place">The place.</param>
    /// <param name="unit">The unit.</param>
    /// <param name="it">The case.</param>
    public static bool IsElsewhere(LocateCandidate place, string unit, DiagnosisCase it)
    {
        ArgumentNullException.ThrowIfNull(place);
        ArgumentNullException.ThrowIfNull(it);
        return it.Unit(unit)?.Watched.Unit is { } sheet && (!it.Wire.TryGetValue(sheet.Universe, out UniverseId wire) || wire != place.Universe);
    }

    /// <summary>A place in the sheet's numbering, as in <c>1.061</c>, with the mode where it is not the sheet's.</summary>
    /// <param name="place">The place.</param>
    /// <param name="unit">The unit.</param>
    /// <param name="it">The case.</param>
    public static string Words(LocateCandidate place, string unit, DiagnosisCase it)
    {
        ArgumentNullException.ThrowIfNull(place);
        ArgumentNullException.ThrowIfNull(it);
        KeyValuePair<int, UniverseId>[] known = [.. it.Wire.Where(pair => pair.Value == place.Universe)];
        string where = known.Length > 0
            ? string.Create(CultureInfo.InvariantCulture, $"{known[0].Key}.{place.Hypothesis.Address:000}")
            : string.Create(CultureInfo.InvariantCulture, $"{place.Universe.Label}, address {place.Hypothesis.Address}");
        return it.Unit(unit)?.Watched.Unit.Mode is { } mode && mode.Equals(place.Mode, StringComparison.OrdinalIgnoreCase) ? where : $"{where} in mode {place.Mode}";
    }

    private static IReadOnlyList<LocateCandidate> Places(LocatedUnit located) => located.Answer.Claim switch
    {
        LocateClaim.Found or LocateClaim.Class => located.Result.ClassMembers,
        LocateClaim.OneOf => located.Result.Candidates,
        LocateClaim.NotEnough when IsFavourite(located.Result) => located.Result.ClassMembers,
        _ => [],
    };

    // The light moves, and it is the unit's own: only the rule for a claim is not met.
    private static bool IsFavourite(LocateResult result) =>
        result is { Fit: { } fit, ClassScore: >= FavouriteScore, ClassMembers.Count: <= MostFavourites } &&
        fit.LightChanges >= LocateRule.FewestMoves && fit.Changes >= LocateRule.FewestMoves && fit.OwnShare >= LocateRule.SmallestOwn && fit.SpillShare <= LocateRule.Normal.Spill &&
        fit.Unexplained <= FavouriteUnexplained + (2 * fit.UnexplainedError) && fit.MarginOverNone >= LocateRule.SmallestMargin;

    private static IEnumerable<string> Errors(LocateCandidate place) => [place.Error, .. place.OtherErrors];

    private static bool IsSheet(LocateCandidate place, PatchUnit? unit, DiagnosisCase it) =>
        unit is not null && it.Wire.TryGetValue(unit.Universe, out UniverseId wire) && wire == place.Universe &&
        place.Hypothesis.Address == unit.Address && place.Mode.Equals(unit.Mode, StringComparison.OrdinalIgnoreCase);
}
