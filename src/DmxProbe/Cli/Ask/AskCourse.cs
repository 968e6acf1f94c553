using System.Globalization;

using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Locate;
using DmxProbe.Analysis.Locate.Ask;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Text;

namespace DmxProbe.Cli.Ask;

/// <summary>
/// The course of guided questions, whoever puts them: an audience first, then what tells most until a claim and its
/// confirming look. Each answer goes into the log as it is given, so that lines and screen go on where the other stopped.
/// </summary>
/// <param name="gathered">What is known before.</param>
/// <param name="controller">What is at hand; null: it is asked.</param>
/// <param name="log">The decision log; null = none.</param>
/// <param name="clock">The clock of answers.</param>
/// <param name="wire">The live inputs; null where there are only files: then what was asked for counts as sent.</param>
internal sealed class AskCourse(LocateGathered gathered, AskController? controller, AskLog? log, TimeProvider clock, IAskWire? wire = null)
{
    private const double WorthAsking = 0.03;
    private const double Far = 0.5;
    private const int MostMachines = 8;

    private readonly AskSafety _safety = new(gathered.Rig);
    private readonly HashSet<int> _offered = [];
    private int _offer = -1;
    private bool _warned;

    /// <summary>What is waited for.</summary>
    public AskStep Step { get; private set; } = AskStep.Audience;

    /// <summary>The questions; null before the first, and where an audience is in.</summary>
    public AskSession? Session { get; private set; }

    /// <summary>The question that is open; null where none is.</summary>
    public AskQuestion? Question { get; private set; }

    /// <summary>Whether it ended because an audience is in.</summary>
    public bool HasAudience { get; private set; }

    /// <summary>What was answered in this run, in words, oldest first.</summary>
    public List<string> Answers { get; } = [];

    /// <summary>Where the wire carried something else than was asked for when the latest answer came, in a sentence; else empty.</summary>
    public string Told { get; private set; } = "";

    /// <summary>Universes that were heard and nobody sends any more, where somebody else listens too; the wire's own come on top.</summary>
    public IReadOnlyCollection<UniverseId> Silent { get; set; } = [];

    /// <summary>Which universes nobody sends any more, where that makes answers worthless; empty else. Only with a live input.</summary>
    public string Dead => Step is AskStep.Controller or AskStep.Question && Unsent() is { Count: > 0 } unsent
        ? $"Nobody sends {SilentUniverses.Labels(unsent)} now; with people clear, start the controller, or an answer means nothing."
        : "";

    /// <summary>Which other universes nobody sends any more; empty where there are none, or the question itself is not sent.</summary>
    public string AlsoDead => Step == AskStep.Question && Dead.Length == 0 && gathered.Rig.Space.Universes.Where(IsSilent).ToList() is { Count: > 0 } unsent
        ? $"nobody sends {SilentUniverses.Labels(unsent)} now; answers count as if its lights were down."
        : "";

    /// <summary>What it is about.</summary>
    public LocateGathered Gathered => gathered;

    /// <summary>Whether the question is a confirming look.</summary>
    public bool Confirms => Question?.Confirms is not null;

    /// <summary>What is asked now, one or two sentences.</summary>
    public string Words => Step switch
    {
        AskStep.Audience => "Before anything is raised: is an audience in?",
        AskStep.Controller => "What have you at hand to raise slots with?",
        AskStep.Question => Figures.Capital(AskWords.Question(gathered.Rig, Question!)),
        AskStep.Clear => $"The slots of the sheet alone tell too little more. Slots of {Universe(_offer)} that are not on the sheet count as unknown, and raising them could start anything that is on them. If you know it, type: {AskSafety.Phrase}",
        _ => HasAudience ? WithAudience : "",
    };

    /// <summary>What is said where an audience is in.</summary>
    public const string WithAudience =
        "With an audience in nothing is raised: the answer rests on what was heard and noted so far. Note looks and taps with --notes, and ask again when the house is empty.";

    /// <summary>What is to be minded with every question.</summary>
    public string Caution
    {
        get
        {
            string[] machines =
            [
                .. gathered.Rig.Units.Where(unit => unit.Universe >= 0 && Enumerable.Range(unit.Address, Math.Max(unit.Mode?.Footprint ?? 1, 1))
                    .Any(slot => slot <= SlotHistory.SlotCount && _safety.UseOf(unit.Universe, slot) == SlotUse.Hazard)).Select(unit => Plain(unit.Name)),
            ];
            string never = machines.Length == 0 ? "" : $" Never raised: {string.Join(", ", machines.Take(MostMachines))}{(machines.Length > MostMachines ? " and more" : "")}.";
            return $"{Plain(gathered.About.Unit.Unit)} may read anything, so it may move, flash or strike: nobody at it, nobody on a ladder under it.{never}";
        }
    }

    /// <summary>What is said of universes that several senders decide; empty where there is none.</summary>
    public string Shared => SharedElsewhere().ToArray() is { Length: > 0 } shared
        ? SharedUniverses.Note(shared.Select(each => (gathered.Rig.Space.Universes[each.Universe], each.Senders))) : "";

    private IEnumerable<(int Universe, int Senders)> SharedElsewhere() =>
        from u in Enumerable.Range(0, gathered.Rig.Space.Universes.Count)
        where gathered.Shared.ContainsKey(gathered.Rig.Space.Universes[u])
        select (u, gathered.Shared[gathered.Rig.Space.Universes[u]]);

    /// <summary>Says whether an audience is in: with one nothing is asked.</summary>
    /// <exception cref="UsageException">What is at hand does not serve.</exception>
    public void Audience(bool isIn)
    {
        HasAudience = isIn;
        Step = isIn ? AskStep.Ended : AskStep.Controller;
        if (!isIn && controller is not null)
        {
            Choose(controller);
        }
    }

    /// <summary>Says what is at hand.</summary>
    /// <exception cref="UsageException">It does not serve.</exception>
    public void Choose(AskController atHand)
    {
        controller = atHand;
        if (gathered.Refusal.Length > 0)
        {
            throw new UsageException(gathered.Refusal);
        }

        foreach ((int universe, _) in SharedElsewhere())
        {
            _safety.Share(universe);
        }

        IAskPlanner planner = atHand.Planner(gathered, _safety);
        wire?.Start();
        bool hasTrace = gathered.About.Question.Trace is not null;
        Session = new AskSession(gathered.Posterior, _safety, planner, hasTrace ? () => gathered.Judge().Claim == LocateClaim.Found : null);
        GoOn();
    }

    /// <summary>Takes what was seen; false where it is no answer to the question.</summary>
    public bool See(Seen seen)
    {
        if (Question is not AskQuestion question || Session is not AskSession session || seen.Kind is not (SeenKind.Dark or SeenKind.Lit or SeenKind.Flashing or SeenKind.Unsure))
        {
            return false;
        }

        if (SharedNow() is { Length: > 0 } shared)
        {
            Told = shared;
            return true;
        }

        if (seen.Kind != SeenKind.Unsure && Unsent() is { Count: > 0 } unsent)
        {
            Told = $"Not taken: nobody sends {SilentUniverses.Labels(unsent)} now. With people clear (lights jump when levels come back), start the controller, bring up what was asked for and answer again; U (cannot tell) goes on without.";
            return true;
        }

        IReadOnlyList<byte[]>? sent = wire?.Levels(gathered.Rig.Space.Universes, question.Levels);
        if (!IsAsAsked(question, sent))
        {
            return true;
        }

        string raised = RaisedText.Write(gathered.Rig, sent is null ? question.Raised : _safety.Up(sent));
        session.Answer(question, seen, $"answer {session.Answered + 1}, '{seen}' with {(question.Look is Timestamp look ? $"the look of {gathered.Rig.Clock(look)}" : Short(raised))} up", clock.Now(), sent);
        log?.Write(gathered.About.Unit.Unit, seen.ToString(), RaisedText.Write(gathered.Rig, [.. sent is null ? question.Raised : _safety.Up(sent), .. question.Stay]));
        Answers.Add(seen.ToString());
        GoOn();
        return true;
    }

    /// <summary>Where several senders decide the universe of the unit by now: an answer says nothing then.</summary>
    private string SharedNow()
    {
        int own = gathered.Rig.Units.FirstOrDefault(unit => unit.Name == gathered.Rig.Unit)?.Universe ?? -1;
        return own >= 0 && wire?.Deciding(gathered.Rig.Space.Universes[own]) is > 1 and int senders
            ? SharedUniverses.Now(gathered.Rig.Space.Universes[own], senders, Plain(gathered.Rig.Unit)) : "";
    }

    private bool IsSilent(UniverseId universe) => Silent.Contains(universe) || wire?.FellSilent(universe) == true;

    private IReadOnlyList<UniverseId> Unsent() => SilentUniverses.Of(Question, gathered.Rig.Space.Universes, IsSilent);

    /// <summary>Takes the latest answer of this run back; false where there is none.</summary>
    public bool TakeBack()
    {
        bool taken = Session?.TakeBack() == true;
        if (taken)
        {
            log?.TakeBack();
            Answers.RemoveAt(Answers.Count - 1);
        }

        if (Session is not null)
        {
            GoOn();
        }

        return taken;
    }

    /// <summary>Takes what was typed about slots that are not on the sheet; only the sentence itself clears them.</summary>
    public void Clear(string? typed)
    {
        if (typed?.Trim().Equals(AskSafety.Phrase, StringComparison.OrdinalIgnoreCase) == true)
        {
            _safety.Clear(_offer);
        }

        GoOn();
    }

    /// <summary>Stops here.</summary>
    public void Stop()
    {
        Step = AskStep.Ended;
        Question = null;
    }

    /// <summary>What may be said now.</summary>
    public LocateAnswer Answer() => AskNarrator.Answer(gathered.Judge(), gathered.About, Session, gathered.Rig);

    /// <summary>
    /// Tells where the wire carries something else than was asked for. The answer then counts for what was sent; where nothing
    /// of it was, it is asked for once more.
    /// </summary>
    private bool IsAsAsked(AskQuestion question, IReadOnlyList<byte[]>? sent)
    {
        WireCheck? check = sent is null ? null : WireCheck.Of(question, sent, _safety);
        string words = check?.Words(gathered.Rig) ?? "";
        bool again = check?.IsNothingUp == true && !_warned;
        _warned = again;
        Told = words.Length == 0 ? ""
            : again ? words + ": nothing of what was asked for arrives here. Is it the right controller, output and universe? Bring it up, and answer again."
            : words + ". Your answer counts for what is sent, not for what was asked.";
        return !again;
    }

    private void GoOn()
    {
        AskSession session = Session!;
        if (wire?.Levels(gathered.Rig.Space.Universes, gathered.Rig.Held) is { } standing)
        {
            session.Stands(standing);
            for (int u = 0; u < gathered.Rig.Space.Universes.Count; u++)
            {
                if (wire.Deciding(gathered.Rig.Space.Universes[u]) > 1)
                {
                    _safety.Share(u);
                }
            }
        }

        Question = session.Next();
        bool far = session.Posterior.Probability[session.Posterior.Best] < Far;
        if ((Question is null || (Question.Bits < WorthAsking && Question.Confirms is null && far)) &&
            session.End is AskEnd.NothingLeft or AskEnd.NoConfirmingLook or AskEnd.Open && controller!.Word != "looks" && Offer())
        {
            Step = AskStep.Clear;
            return;
        }

        Step = Question is null ? AskStep.Ended : AskStep.Question;
    }

    /// <summary>Whether there is a universe whose unpatched slots were not yet offered: the likeliest first.</summary>
    private bool Offer()
    {
        _offer = Enumerable.Range(0, gathered.Rig.Space.Universes.Count).OrderByDescending(Mass).FirstOrDefault(universe => !gathered.Shared.ContainsKey(gathered.Rig.Space.Universes[universe]) && !_safety.Cleared.Contains(universe) && !_offered.Contains(universe), -1);
        return _offer >= 0 && _offered.Add(_offer);
    }

    private string Universe(int universe) => gathered.Rig.SheetUniverses[universe] is >= 0 and int number
        ? string.Create(CultureInfo.InvariantCulture, $"universe {number}") : gathered.Rig.Space.Universes[universe].Label;

    private double Mass(int universe)
    {
        double mass = 0;
        for (int i = 0; i < gathered.Rig.Space.Count; i++)
        {
            mass += gathered.Rig.Space.PlaceAt(i).Universe == universe ? gathered.Posterior.Probability[i] : 0;
        }

        return mass;
    }

    private static string Short(string text) => text.Length > 60 ? text[..57] + "..." : text;

    private static string Plain(string name) => Printable.Text(name);
}
