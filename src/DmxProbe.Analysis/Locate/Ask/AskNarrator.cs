using System.Globalization;

namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>Puts an answer that rests on more than a trace into words.</summary>
public static class AskNarrator
{
    // The report itself is a line of its own already.
    private const string Device = "device";

    private const string OtherData = "A light that follows the same cues from data that was not captured cannot be excluded by listening: do the confirming look";

    private const string NoLookLeft =
        "No safe question is left that would tell more by looks that exist: a controller that raises ranges or pages of faders can ask more (--controller ranges, --controller faders:8).";

    private const string NothingLeft =
        "No safe question is left that would tell more: slots that are, or may be, movement, shutter, programme, control or unknown are never raised, and the unit itself may read any of them.";

    /// <summary>Makes the answer.</summary>
    /// <param name="result">What was found.</param>
    /// <param name="about">What it is about.</param>
    /// <param name="session">The guided questions; null where none were asked.</param>
    /// <param name="rig">What slots are named by.</param>
    public static LocateAnswer Answer(LocateResult result, LocateCase about, AskSession? session, AskRig rig)
    {
        ArgumentNullException.ThrowIfNull(result);
        ArgumentNullException.ThrowIfNull(about);
        ArgumentNullException.ThrowIfNull(rig);
        LocateAnswer answer = result.Fit is null && result.Claim is LocateClaim.NotEnough or LocateClaim.NothingExplains
            ? WithoutTrace(result, about, wasAsked: session is not null)
            : LocateNarrator.Answer(result, about);
        return Ended(answer, about, session, rig) with { Evidence = [.. answer.Evidence, .. Lines(result, about, session)] };
    }

    private static LocateAnswer WithoutTrace(LocateResult result, LocateCase about, bool wasAsked)
    {
        string unit = LocateWords.Plain(about.Unit.Unit);
        List<string> evidence = [];
        if (result.Best is LocateCandidate best)
        {
            evidence.Add(string.Create(CultureInfo.InvariantCulture, $"likeliest so far: {LocateWords.PlaceAndMode(best, about)}, score {best.Score:0.000}"));
        }

        evidence.AddRange(about.Question.Reports.Select(report => report.Text));
        return result.Claim == LocateClaim.NothingExplains
            ? new LocateAnswer(result.Claim, false, "Nothing that was captured explains what was seen of " + unit + ".",
                "It may have no data or no power, run a programme of its own, be in a mode that was not tried, or follow a universe that was not captured.", "",
                "Check power and data at the unit first; then capture the remaining universes, try all modes of its type (leave --mode out), and locate again.", evidence, [])
            : new LocateAnswer(result.Claim, false, "Not enough evidence yet to say what " + unit + " reads: several places explain what was seen about equally well.", "", "",
                "Note more: what the light does at moments in which its neighbours do different things, with the colour" + (wasAsked ? ", or film a minute of it (trace from-video): that raises nothing." : "; or let --ask choose the looks."), evidence, []);
    }

    private static LocateAnswer Ended(LocateAnswer answer, LocateCase about, AskSession? session, AskRig rig)
    {
        string unit = LocateWords.Plain(about.Unit.Unit);
        bool claims = answer.IsClaim;
        switch (session?.End)
        {
            case AskEnd.Confirmed when claims && session.Confirmed is AskQuestion look:
                return answer with
                {
                    NextStep = unit + " lit in the confirming look, with " + AskWords.Up(rig, look) + ".",
                    Cautions = [.. answer.Cautions.Where(caution => caution != OtherData)],
                };
            case AskEnd.Contradicted:
                return answer with
                {
                    Claim = LocateClaim.NotEnough,
                    AsTheSheetSays = false,
                    Sentence = "Not enough evidence yet to say what " + unit + " reads: the evidence speaks for one place, and the confirming look spoke against it three times.",
                    Explanation = "It may follow the same cues from data that was not captured, or the look was not what was asked for.",
                    Action = "",
                    NextStep = "Watch the levels in 'watch' while the look is up; capture the remaining universes and locate again.",
                    Cautions = [],
                };
            case AskEnd.CannotTell when !claims:
                return answer with { NextStep = "You could not tell five times running: darken the house, stand where you see the lens, and ask again. " + answer.NextStep };
            case AskEnd.NothingLeft when !claims:
                string why = session.NotRaised(rig);
                return answer with
                {
                    NextStep = (session.OnlyLooks ? NoLookLeft : NothingLeft) + (why.Length > 0 ? " " + why : "") + " " + answer.NextStep +
                        " Then ask again: what is known opens more slots. " + Instead(unit),
                };
            default:
                return answer;
        }
    }

    private static string Instead(string unit) =>
        "Or read the start address and the mode on the display of " + unit + ", or set them there anew: it may move or strike then, so nobody at it. " +
        "Or, with people clear, the work light on and nothing moving, pull its data: if that changes nothing, it does not follow this line.";

    private static IEnumerable<string> Lines(LocateResult result, LocateCase about, AskSession? session)
    {
        if (session is { Answered: > 0 })
        {
            yield return string.Create(CultureInfo.InvariantCulture, $"{session.Answered} guided {(session.Answered == 1 ? "look" : "looks")} answered; the eye is taken to err in {100 * session.Posterior.EyeError:0} % of looks, by the answers themselves");
        }

        foreach (LocateContribution piece in result.Contributions)
        {
            yield return (piece.Evidence == Device ? "what RDM reports" : piece.Text) + ": " + Strength(piece, about);
        }
    }

    private static string Strength(LocateContribution piece, LocateCase about)
    {
        const double telling = 0.5;
        string against = LocateWords.PlaceAndMode(piece.Against, about);
        return Math.Abs(piece.Nats) < telling ? "does not tell it from " + against
            : piece.Nats > 0 ? LocateWords.Odds(piece.Nats) + " for it over " + against
            : LocateWords.Odds(-piece.Nats) + " against it, for " + against;
    }
}
