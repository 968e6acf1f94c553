using System.Globalization;
using DmxProbe.Analysis.Diagnosis;
using DmxProbe.Fixtures.Addressing;
using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Analysis.Locate;

/// <summary>Puts a result into words: the answer first, then what to do, always with the look that confirms it.</summary>
public static class LocateNarrator
{
    private const string Moves = "Before setting an address or a mode: the unit may move or strike; nobody at it, nobody on a ladder under it";
    private const string OtherData = "A light that follows the same cues from data that was not captured cannot be excluded by listening: do the confirming look";

    /// <summary>Makes the answer.</summary>
    /// <param name="result">What the inference found.</param>
    /// <param name="about">What it is about.</param>
    public static LocateAnswer Answer(LocateResult result, LocateCase about)
    {
        ArgumentNullException.ThrowIfNull(result);
        ArgumentNullException.ThrowIfNull(about);
        return result.Claim switch
        {
            LocateClaim.Found or LocateClaim.Class => Claimed(result, about),
            LocateClaim.OneOf => OneOf(result, about),
            LocateClaim.NothingExplains => Nothing(result, about),
            _ => NotEnough(result, about),
        };
    }

    private static LocateAnswer Claimed(LocateResult result, LocateCase about)
    {
        string unit = LocateWords.Plain(about.Unit.Unit);
        string sheet = LocateWords.Address(about.Unit.Universe, about.Unit.Address);
        bool agrees = result.ClassMembers.Any(member => IsSheet(member, about));
        bool several = result.Claim == LocateClaim.Class;
        string places = LocateWords.Either([.. result.ClassMembers.Take(6).Select(member => LocateWords.PlaceAndMode(member, about))]);
        string error = result.ClassMembers.Where(member => member.Error.Length > 0).MaxBy(member => member.Score)?.Error ?? "";
        string same = SameValues.In(result.ClassMembers, about.Question) ? ", which carried the same values" : ", which this evidence does not tell apart";
        string sentence = (agrees, several) switch
        {
            (true, false) => unit + " reads " + places + ", as the sheet says.",
            (true, true) => unit + " reads " + places + same + "; the sheet's " + sheet + " is one of them.",
            (false, false) => unit + " reads " + places + ", not " + sheet + " as the sheet says" + (error.Length > 0 ? ": " + error + "." : "."),
            _ => unit + " reads " + places + same + ", not " + sheet + " as the sheet says" + (error.Length > 0 ? ": " + error + "." : "."),
        };
        List<string> cautions = [OtherData];
        string action = "";
        if (!agrees)
        {
            action = Action(result, about, unit, sheet);
            cautions.Insert(0, Moves);
            if (result.ClassMembers.Any(member => UniverseAdvice.IsElsewhere(member, about)))
            {
                cautions.Insert(1, Caution.Unplugging);
            }

            cautions.Add(DipSwitches.Caution);
        }

        return new LocateAnswer(result.Claim, agrees, sentence, agrees ? "" : error, action, Confirming(result, about, several), Evidence(result, about), cautions);
    }

    private static string Action(LocateResult result, LocateCase about, string unit, string sheet)
    {
        LocateCandidate best = result.Best!;
        int universe = about.SheetUniverses[best.Hypothesis.History];
        int footprint = about.Charts.FootprintOf(about.Unit.Type, about.Unit.Mode);
        string free = Free(AddressAdvice.For(about.Sheet, about.Charts, about.Unit.Universe, about.Unit.Address, footprint, about.Unit), sheet) + ".";
        string setting = "et " + unit + " to " + LocateWords.Setting(about.Unit.Address) + (best.Mode == about.Unit.Mode ? "" : " in mode " + LocateWords.Plain(about.Unit.Mode)) + "; " + free;
        int elsewhere = result.ClassMembers.Count(member => UniverseAdvice.IsElsewhere(member, about));
        string action = elsewhere == 0 ? "S" + setting
            : elsewhere < result.ClassMembers.Count
            ? "Which universe it hears is not settled: look which output its line is plugged into. If it is not that of the sheet, first " + UniverseAdvice.Bring(about) + ". Then s" + setting
            : Elsewhere(result, about, unit, sheet, universe, footprint, setting);
        if (universe >= 0)
        {
            int found = about.Question.Modes[best.Hypothesis.Mode].Footprint;
            AddressAdvice there = AddressAdvice.For(about.Sheet, about.Charts, universe, best.Hypothesis.Address, found, about.Unit);
            action += there.Free
                ? " Or patch the controller to " + LocateWords.PlaceAndMode(best, about) + ", which is free on the sheet."
                : " Do not patch the controller to " + LocateWords.PlaceAndMode(best, about) + " instead: " + Free(there, "it") + ".";
        }

        return action;
    }

    // An address is counted in the universe that is heard: setting it is right only on the sheet's universe.
    private static string Elsewhere(LocateResult result, LocateCase about, string unit, string sheet, int universe, int footprint, string setting)
    {
        LocateCandidate best = result.Best!;
        string first = "First " + UniverseAdvice.Bring(about) + "." +
            (universe < 0 ? " The sheet has no number for " + best.Universe.Label + ": if it is universe " + about.Unit.Universe.ToString(CultureInfo.InvariantCulture) + ", say so with --map and locate again." : "");
        string chain = UniverseAdvice.Chain(universe, about);
        bool isAddress = result.ClassMembers.All(member => member.Hypothesis.Address == about.Unit.Address);
        bool isMode = result.ClassMembers.All(member => member.Mode == about.Unit.Mode);
        if (isAddress)
        {
            return first + " Its address is right: leave it, setting " + sheet + " again changes nothing." + (isMode ? "" : " Then set it to mode " + LocateWords.Plain(about.Unit.Mode) + ".") + chain;
        }

        string alone = result.ClassMembers.Any(member => member.Hypothesis.History != best.Hypothesis.History) ? " The address alone would leave it on the wrong universe."
            : universe < 0 ? " The address alone would make it read address " + about.Unit.Address.ToString(CultureInfo.InvariantCulture) + " of " + best.Universe.Label + "."
            : Alone(AddressAdvice.For(about.Sheet, about.Charts, universe, about.Unit.Address, footprint, about.Unit), LocateWords.Address(universe, about.Unit.Address));
        return first + " Only then s" + setting + alone + chain;
    }

    private static string Alone(AddressAdvice there, string place) =>
        " The address alone would make it read " + place + (there.TakenBy.Count > 0 ? ", on top of " + string.Join(", ", there.TakenBy.Take(4).Select(unit => LocateWords.Plain(unit.Unit))) : "") + ".";

    private static string Free(AddressAdvice advice, string place) =>
        !advice.Fits ? place + " runs past slot 512"
        : advice.TakenBy.Count > 0 ? place + " overlaps " + string.Join(", ", advice.TakenBy.Take(4).Select(unit => LocateWords.Plain(unit.Unit)))
        : place + " is free on the sheet";

    private static string Confirming(LocateResult result, LocateCase about, bool several)
    {
        List<LocateCandidate> open = [.. result.ClassMembers];
        LocateCandidate? sheet = Sheet(result, about);
        if (sheet is not null && !open.Any(member => member.Hypothesis == sheet.Hypothesis))
        {
            open.Add(sheet);
        }

        SplittingLook? look = LookPlanner.Find(about.Question, Own(about), open);
        return look is null
            ? "No safe look confirms it from the sheet alone: the slots it reads are not intensity or colour of a unit on the sheet. Bring up the cue with the most change again and watch."
            : (several ? "To tell them apart: " : "To confirm: ") + LocateWords.Look(look, about) + ". " + Reading(look, about);
    }

    private static string Reading(SplittingLook look, LocateCase about)
    {
        string lit = LocateWords.Either([.. look.Lit.Select(candidate => LocateWords.PlaceAndMode(candidate, about))]);
        string unit = LocateWords.Plain(about.Unit.Unit);
        string sentence = look.Dark.Count == 0
            ? unit + " must light up; if it stays dark it does not read " + lit + "."
            : unit + " lights up if it reads " + lit + ", and stays dark if it reads " +
                LocateWords.Either([.. look.Dark.Select(candidate => LocateWords.PlaceAndMode(candidate, about))]) + ".";
        string raised = LocateWords.Plain(look.Unit);
        return raised == unit ? sentence : sentence + " " + raised + " lights up in any case: look at " + unit + ".";
    }

    private static LocateAnswer OneOf(LocateResult result, LocateCase about)
    {
        string unit = LocateWords.Plain(about.Unit.Unit);
        string places = LocateWords.Either([.. result.Candidates.Select(candidate => LocateWords.PlaceAndMode(candidate, about))]);
        SplittingLook? look = LookPlanner.Find(about.Question, Own(about), result.Candidates);
        string next = look is null
            ? "No safe look splits them: record another 30 s in which these units do different things."
            : "This look splits them: " + LocateWords.Look(look, about) + ". " + Reading(look, about);
        string sentence = string.Create(CultureInfo.InvariantCulture, $"{unit} reads {places}: one of these {result.Candidates.Count}, and the evidence does not yet say which.");
        string error = string.Join("; ", result.Candidates.Where(candidate => candidate.Error.Length > 0)
            .Select(candidate => LocateWords.PlaceAndMode(candidate, about) + ": " + candidate.Error));
        return new LocateAnswer(result.Claim, false, sentence, error, "", next, Evidence(result, about), [OtherData]);
    }

    private static LocateAnswer Nothing(LocateResult result, LocateCase about)
    {
        string unit = LocateWords.Plain(about.Unit.Unit);
        return new LocateAnswer(
            result.Claim,
            false,
            "Nothing that was captured explains this light: " + unit + " changes, but with no universe, address or mode that was tried.",
            "It may run a programme, sound or automatic mode of its own, strobe, be in a mode that was not tried, or follow a universe that was not captured.",
            "",
            "Hold a look for 10 s: a light that goes on changing runs by itself (set it to DMX control). Else capture the remaining universes, try all modes of its type (leave --mode out), and locate again." + Reported(about),
            Evidence(result, about),
            [Moves]);
    }

    private static LocateAnswer NotEnough(LocateResult result, LocateCase about)
    {
        string unit = LocateWords.Plain(about.Unit.Unit);
        LocateFit? fit = result.Fit;
        (string why, string next) = fit switch
        {
            null => ("nothing that was captured changes during the trace", "Record again while cues run, 60 s or more."),
            { LightChanges: 0 } => (
                "no move of a light stands clear of the noise in this trace",
                "Check that the reading is taken from the light itself and that exposure is locked, then record while cues change it."),
            { LightChanges: < LocateRule.FewestMoves } or { Changes: < LocateRule.FewestMoves } => (
                "the light changes too seldom in this trace to tell addresses apart",
                "Record on through at least three more cues that change this light, or bring up a cue that does."),
            not null when fit.SpillShare > LocateRule.Normal.Spill || fit.OwnShare < LocateRule.SmallestOwn => (
                "the light of the other units is too strong in this reading",
                "Measure closer: the lens itself instead of its spot, or a region without the others' light, then record again."),
            not null when LocateRule.IsSpillHopeless(fit) => (
                "it fits only with much light of the other units in the reading",
                "Measure closer: the lens itself instead of its spot, or a region without the others' light, then record again."),
            { Unexplained: > 0.02 } => (
                "the best candidate leaves part of the light unexplained",
                "Check that the right unit is measured, that exposure is locked and the light never too bright for the sensor, and that its mode is among those tried; then record again."),
            _ => (
                "several addresses fit about equally well",
                "Record on, best with red, green and blue: each cue in which these units differ helps."),
        };
        if (result.Candidates.Count > 1 && LookPlanner.Find(about.Question, Own(about), result.Candidates) is { } look)
        {
            next += " Or split the likeliest: " + LocateWords.Look(look, about) + ". " + Reading(look, about);
        }

        return new LocateAnswer(result.Claim, false, "Not enough evidence yet to say what " + unit + " reads: " + why + ".", "", "", next + Reported(about), Evidence(result, about), []);
    }

    private static List<string> Evidence(LocateResult result, LocateCase about)
    {
        List<string> lines = [];
        if (result.Fit is { } fit)
        {
            lines.Add(string.Create(CultureInfo.InvariantCulture,
                $"{fit.Samples / (double)SlotHistory.RatePerSecond:0} s of light compared with {result.Hypotheses} changing places; the light moved {fit.LightChanges} times, the best prediction {fit.Changes} times"));
            // Without a fit to speak of, its shares are shares of next to nothing.
            if (fit.LightChanges > 0 && fit.MarginOverNone >= LocateRule.SmallestMargin)
            {
                AddFit(lines, fit);
            }
        }

        if (result.Best is { } best)
        {
            bool isClaim = result.Claim is LocateClaim.Found or LocateClaim.Class or LocateClaim.OneOf;
            string score = isClaim ? string.Create(CultureInfo.InvariantCulture, $", score {result.Confidence:0.000}") : ", which does not pass the rule for a claim";
            lines.Add($"best: {LocateWords.PlaceAndMode(best, about)} ({best.Universe.Label}){score}");
        }

        if (result.RunnerUp is { } second && result.Best is { } first)
        {
            lines.Add(string.Create(CultureInfo.InvariantCulture,
                $"runner-up: {LocateWords.PlaceAndMode(second, about)} ({second.Universe.Label}), score {second.Score:0.000}; the light speaks for the best over it by {LocateWords.Odds(first.LogLikelihood - second.LogLikelihood)}"));
        }

        foreach (LocateReport report in about.Question.Reports)
        {
            lines.Add(report.Text + (result.Best is not { } likeliest ? "" : report.Agrees(likeliest.Hypothesis) ? ": agrees with the best" : ": the best is another place"));
        }

        return lines;
    }

    // What the unit itself says is worth looking at first, where the light does not say enough.
    private static string Reported(LocateCase about) => about.Question.Reports.FirstOrDefault(report => report.IsIdentified && report.Place.Length > 0) is { } report
        ? " By RDM the unit itself says that it reads " + report.Place + ": look there first."
        : "";

    private static void AddFit(List<string> lines, LocateFit fit)
    {
        lines.Add(string.Create(CultureInfo.InvariantCulture,
            $"the best prediction leaves {100 * Math.Max(fit.Unexplained, 0):0.0} % of the light's moves unexplained; the light comes {1000 * fit.DelaySeconds:0} ms after the data; its dimmer curve is {Curve(fit.Response)}"));
        lines.Add(string.Create(CultureInfo.InvariantCulture,
            $"own light {100 * Math.Min(fit.OwnShare, 1):0} % of what changes, light of the other units {100 * Math.Min(fit.SpillShare, 1):0} %; that it is light of its own and not only of the others: {LocateWords.Odds(fit.MarginOverNone)}"));
    }

    // The power by which brightness follows the level: 1 is straight, 2 square.
    private static string Curve(double response)
    {
        const double straight = 0.05;
        return Math.Abs(response - 1) <= straight
            ? "straight"
            : string.Create(CultureInfo.InvariantCulture, $"{(response < 1 ? "steep" : "soft")} at the bottom (level to the power {response:0.0})");
    }

    private static bool IsSheet(LocateCandidate candidate, LocateCase about) =>
        about.SheetUniverses[candidate.Hypothesis.History] == about.Unit.Universe &&
        candidate.Hypothesis.Address == about.Unit.Address && candidate.Mode == about.Unit.Mode;

    private static LocateCandidate? Sheet(LocateResult result, LocateCase about)
    {
        int history = about.SheetUniverses.ToList().IndexOf(about.Unit.Universe);
        int mode = about.Question.Modes.ToList().FindIndex(candidate => candidate.Name == about.Unit.Mode);
        return history < 0 || mode < 0 || result.Best is null ? null : result.Best with
        {
            Hypothesis = new Hypothesis(history, about.Unit.Address, mode),
            Universe = about.Question.Histories[history].Universe,
            Mode = about.Unit.Mode,
            Score = 1,
        };
    }

    private static OtherUnit? Own(LocateCase about)
    {
        ChartMode? mode = about.Charts.Find(about.Unit.Type, about.Unit.Mode);
        int history = about.SheetUniverses.ToList().IndexOf(about.Unit.Universe);
        return mode is null || history < 0 ? null : new OtherUnit(about.Unit.Unit, history, about.Unit.Address, mode);
    }
}
