using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>
/// A series of guided questions: asks what tells most, takes answers that may be wrong, stops when a claim is possible, and
/// then asks for one confirming look.
/// </summary>
public sealed class AskSession
{
    /// <summary>Nobody should answer more than this.</summary>
    public const int MostQuestions = 250;

    private const int MostContradictions = 3;
    private const int MostUnsure = 5;
    private const double Likelier = 0.5;
    private const double AsGood = 0.9;

    // The same eye at the same look errs the same way again.
    private const int MostRunning = 2;
    private const double Surely = 0.9;
    private const double MostMore = 0.02;

    private readonly AskSafety _safety;
    private readonly IAskPlanner _planner;
    private readonly Func<bool> _mayClaim;
    private readonly List<(AskQuestion Question, Seen Seen, bool HasEvidence)> _answers = [];
    private readonly List<AskQuestion> _asked = [];

    /// <summary>Begins.</summary>
    /// <param name="posterior">What is known so far; the answers are added to it.</param>
    /// <param name="safety">What may be raised.</param>
    /// <param name="planner">What the controller can do.</param>
    /// <param name="mayClaim">Whether a claim is possible now; null: the best place holds <see cref="AskStanding.Claim"/>.</param>
    public AskSession(AskPosterior posterior, AskSafety safety, IAskPlanner planner, Func<bool>? mayClaim = null)
    {
        ArgumentNullException.ThrowIfNull(posterior);
        ArgumentNullException.ThrowIfNull(safety);
        ArgumentNullException.ThrowIfNull(planner);
        Posterior = posterior;
        _safety = safety;
        _planner = planner;
        _mayClaim = mayClaim ?? (() => Posterior.Probability[Posterior.Best] >= AskStanding.Claim && Posterior.Best < Posterior.Space.Count);
    }

    /// <summary>What is known.</summary>
    public AskPosterior Posterior { get; }

    /// <summary>How it stands, after the latest <see cref="Next"/>.</summary>
    public AskEnd End { get; private set; }

    /// <summary>Questions answered, confirming looks too.</summary>
    public int Answered => _answers.Count;

    /// <summary>What they cost the person, seconds.</summary>
    public double Seconds => _answers.Sum(answer => answer.Question.Seconds);

    /// <summary>The confirming look that agreed; null while there is none.</summary>
    public AskQuestion? Confirmed => _answers.Count > 0 && _answers[^1] is { Question.Confirms: int place, Seen.Kind: SeenKind.Lit } last &&
        place == Posterior.Best ? last.Question : null;

    /// <summary>The next question; null when there is none, and <see cref="End"/> says why.</summary>
    public AskQuestion? Next() => Choose() is AskQuestion question
        ? question with
        {
            Stay = _safety.Standing.Needed(question.Levels, Posterior.Span),
            IsAgain = _asked.Exists(each => each.Look == question.Look && each.Raised.SequenceEqual(question.Raised)),
        }
        : null;

    private AskQuestion? Choose()
    {
        if (_answers.Count >= MostQuestions)
        {
            End = AskEnd.TooMany;
            return null;
        }

        if (_answers.Count >= MostUnsure && _answers.TakeLast(MostUnsure).All(answer => answer.Seen.Kind == SeenKind.Unsure))
        {
            End = AskEnd.CannotTell;
            return null;
        }

        _safety.Update(Posterior.Span);
        bool claims = _mayClaim();
        if (claims && Confirmed is not null)
        {
            End = AskEnd.Confirmed;
            return null;
        }

        int best = Posterior.Best;
        if (claims && Contradicted(best))
        {
            End = AskEnd.Contradicted;
            return null;
        }

        AskQuestion? question = claims ? null : _planner.Next(Posterior, _safety);
        if (!claims && best < Posterior.Space.Count && Posterior.Probability[best] >= Likelier && Confirming(best) is AskQuestion early &&
            _answers.TakeLast(MostRunning).Count(answer => answer.Question.Raised.SequenceEqual(early.Raised)) < MostRunning && IsAsGood(early, question, best))
        {
            End = AskEnd.Open;
            return early;
        }

        if (question is null && best < Posterior.Space.Count && (claims || AskStanding.Of(Posterior).IsClass))
        {
            question = Confirmed is null ? Confirming(best) : null;
            End = question is not null ? AskEnd.Open : Confirmed is not null ? AskEnd.Confirmed : AskEnd.NoConfirmingLook;
            return question;
        }

        End = question is null ? AskEnd.NothingLeft : AskEnd.Open;
        return question;
    }

    /// <summary>The confirming look of a place, unless the person could not tell, again and again.</summary>
    private AskQuestion? Confirming(int place) =>
        _answers.Count(answer => answer.Question.Confirms == place && answer.Seen.Kind == SeenKind.Unsure) < MostUnsure ? _planner.Confirm(Posterior, _safety, place) : null;

    /// <summary>Takes an answer.</summary>
    /// <param name="question">The question.</param>
    /// <param name="seen">What was seen.</param>
    /// <param name="text">What it is, for a person.</param>
    /// <param name="time">When, if that is known.</param>
    /// <param name="wire">The levels that really stood, where the wire was read; null = as asked.</param>
    public void Answer(AskQuestion question, Seen seen, string text, Timestamp? time, IReadOnlyList<byte[]>? wire = null)
    {
        ArgumentNullException.ThrowIfNull(question);
        ArgumentNullException.ThrowIfNull(seen);
        _asked.Add(question);
        question = wire is null ? question : AsSent(question, wire);
        _planner.Asked(question);
        bool tells = seen.Kind is SeenKind.Dark or SeenKind.Lit or SeenKind.Flashing;
        _answers.Add((question, seen, tells));
        if (tells)
        {
            byte[][]? or = wire is null && question.Look is null ? _safety.Standing.Without(question.Levels, question.Stay) : null;
            Posterior.Add(LookEvidence.OfLevels(Posterior.Space, question.Levels, seen, text, time, or));
        }
    }

    /// <summary>Takes over what stands on the wire before a question is chosen: pages of faders may be up already.</summary>
    /// <param name="wire">The 512 levels of each universe.</param>
    public void Stands(IReadOnlyList<byte[]> wire)
    {
        _safety.Standing.IsKnown = true;
        _planner.Asked(new AskQuestion(_safety.Up(wire), wire, 0, 0));
    }

    /// <summary>
    /// A question as it was really put. A look confirms a place only where the wire lit it, and hardly more else than was
    /// asked for.
    /// </summary>
    private AskQuestion AsSent(AskQuestion question, IReadOnlyList<byte[]> wire)
    {
        int? confirms = question.Confirms;
        if (confirms is int place)
        {
            LitScan scan = new(Posterior.Space, _safety.Dangers);
            scan.Load(question.Levels, Posterior.Span);
            double asked = scan.LitMass;
            scan.Load(wire, Posterior.Span);
            confirms = scan.LitOf(place) > Surely && scan.LitMass <= asked + MostMore ? place : null;
        }

        return question with { Raised = _safety.Up(wire), Levels = wire, Confirms = confirms };
    }

    /// <summary>Which slots would tell more and why they are not raised, in a sentence or two; empty where none.</summary>
    internal string NotRaised(AskRig rig) => Ask.NotRaised.Words(rig, Posterior, _safety);

    /// <summary>Whether only looks that exist were asked for: other controllers could ask more.</summary>
    internal bool OnlyLooks => _planner is ExistingLookPlanner;

    /// <summary>Takes the latest answer back; false when there is none.</summary>
    public bool TakeBack()
    {
        if (_answers.Count == 0)
        {
            return false;
        }

        (_, _, bool tells) = _answers[^1];
        _answers.RemoveAt(_answers.Count - 1);
        _asked.RemoveAt(_asked.Count - 1);
        if (tells)
        {
            _ = Posterior.TakeBack();
        }

        if (_answers.Count > 0)
        {
            _planner.Asked(_answers[^1].Question);
        }

        return true;
    }

    /// <summary>
    /// Whether the confirming look is the one to ask for now: it tells about as much for its time as the question, or agreeing it would end
    /// the questions. It has to be asked for in the end anyway.
    /// </summary>
    private bool IsAsGood(AskQuestion confirming, AskQuestion? question, int best)
    {
        LitScan scan = new(Posterior.Space, _safety.Dangers);
        scan.Load(confirming.Levels, Posterior.Span);
        double error = Posterior.EyeError;
        double bits = scan.Bits(error);
        double agreed = Posterior.Probability[best] * (1 - error) / (error + ((1 - (2 * error)) * Math.Clamp(scan.LitMass, 0, 1)));
        double asked = question is null ? 0 : question.Bits / question.Seconds;
        return bits >= AskWorth.Least(Posterior) && (agreed >= AskStanding.Claim || bits / confirming.Seconds >= AsGood * asked);
    }

    private bool Contradicted(int place) =>
        _answers.Count(answer => answer.Question.Confirms == place && answer.Seen.Kind == SeenKind.Dark) >= MostContradictions;
}
