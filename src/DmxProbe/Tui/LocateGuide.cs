using DmxProbe.Analysis.Locate;
using DmxProbe.Analysis.Locate.Ask;
using DmxProbe.Cli;
using DmxProbe.Cli.Ask;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Text;

namespace DmxProbe.Tui;

/// <summary>
/// The guided questions about one unit on the screen: one key for each answer. What is asked and what follows from an answer
/// is worked out apart from the screen, which goes on meanwhile. All but the work itself on the screen's thread.
/// </summary>
internal sealed class LocateGuide
{
    private static readonly SeenColour[] Colours = [SeenColour.Red, SeenColour.Amber, SeenColour.Green, SeenColour.Cyan, SeenColour.Blue, SeenColour.Magenta, SeenColour.White];
    private static readonly int[] Pages = [8, 12, 24, 48];
    private readonly Action<Action> _work;
    private readonly AskLog? _log;
    private readonly bool _isLive;
    private AskCourse? _course;
    private volatile bool _busy;

    /// <summary>Begins: what is known is gathered at once, apart from the screen.</summary>
    /// <param name="unit">The unit, as the sheet names it.</param>
    /// <param name="gather">Gathers what is known of it.</param>
    /// <param name="controller">What is at hand; null: it is asked.</param>
    /// <param name="log">Takes the answers; null: they are not kept.</param>
    /// <param name="clock">The clock of answers.</param>
    /// <param name="work">Runs what takes longer.</param>
    /// <param name="wire">The live inputs, which tell what is really sent; null: what was asked for counts as sent.</param>
    public LocateGuide(string unit, Func<LocateGathered> gather, AskController? controller, AskLog? log, TimeProvider clock, Action<Action> work, IAskWire? wire = null)
    {
        Unit = unit;
        _log = log;
        _isLive = wire is not null;
        _work = work;
        Work(() => _course = new AskCourse(gather(), controller, log, clock, wire));
    }

    /// <summary>Whether a recording is shown: what is asked for is brought up at the rig, and nothing of it is heard here.</summary>
    public bool IsRecording { get; init; }

    /// <summary>The unit; untrusted text.</summary>
    public string Unit { get; }

    /// <summary>Whether something is being worked out; keys then do nothing.</summary>
    public bool IsBusy => _busy;

    /// <summary>Goes up with whatever changes what is shown.</summary>
    public int Version { get; private set; }

    /// <summary>Why it cannot go on; empty while it can.</summary>
    public string Problem { get; private set; } = "";

    /// <summary>What is asked.</summary>
    public string Words { get; private set; } = "";

    /// <summary>What is to be minded with it.</summary>
    public IReadOnlyList<string> Cautions { get; private set; } = [];

    /// <summary>Which universes nobody sends any more, where that makes answers worthless; empty else. Only with a live input.</summary>
    public string Dead => _busy ? "" : _course?.Dead ?? "";

    /// <summary>Which other universes nobody sends any more; empty where there are none, or the question itself is not sent.</summary>
    public string AlsoDead => _busy ? "" : _course?.AlsoDead ?? "";

    /// <summary>The answer; null until the questions have ended.</summary>
    public LocateAnswer? Answer { get; private set; }

    /// <summary>What is waited for.</summary>
    public AskStep Step => _course?.Step ?? AskStep.Ended;

    /// <summary>Whether the question is a confirming look.</summary>
    public bool Confirms => _course?.Confirms == true;

    /// <summary>The answers of this run, in words, oldest first.</summary>
    public IReadOnlyList<string> Answers => _course?.Answers ?? [];

    /// <summary>The questions; null before the first.</summary>
    public AskSession? Session => _course?.Session;

    /// <summary>What is typed, where a sentence is asked for.</summary>
    public string Typed { get; private set; } = "";

    /// <summary>What the last key could not do, or did out of sight; empty else.</summary>
    public string Said { get; private set; } = "";

    /// <summary>How it was left, once that is said.</summary>
    public string Left { get; private set; } = "";

    /// <summary>The file that keeps the answers; null where none does.</summary>
    public string? Log => _log?.Path;

    /// <summary>Whether the answer has gone into the log.</summary>
    public bool IsClosed { get; private set; }

    private bool IsClaim => Answer is { IsClaim: true };

    /// <summary>The keys that work now.</summary>
    public IReadOnlyList<BigKey> Keys()
    {
        List<BigKey> keys = [];
        if (_busy || Problem.Length > 0)
        {
            return keys;
        }

        switch (Step)
        {
            case AskStep.Audience:
                keys.AddRange([BigKey.Letter('N', "no, the house is empty"), BigKey.Letter('Y', "yes: nothing is raised then")]);
                break;
            case AskStep.Controller:
                keys.Add(BigKey.Letter('1', "ranges of slots, as 1.001 to 1.040"));
                keys.AddRange(Pages.Select((faders, index) => BigKey.Letter((char)('2' + index), $"pages of {faders} faders") with { IsRare = true }));
                if (HasLooks)
                {
                    keys.Add(BigKey.Letter((char)('2' + Pages.Length), "only looks that exist") with { IsRare = true });
                }

                break;
            case AskStep.Question:
                keys.AddRange([BigKey.Letter('L', "lit"), BigKey.Letter('D', "dark"), BigKey.Letter('U', "cannot tell"), BigKey.Letter('F', "flashing") with { IsRare = true }]);
                keys.AddRange(Colours.Select((colour, index) => BigKey.Letter((char)('1' + index), colour.ToString().ToLowerInvariant()) with { IsRare = true }));
                break;
            case AskStep.Clear:
                keys.Add(new BigKey("Enter", Typed.Length == 0 ? "leave them alone" : "that is what I typed", new ScreenKey(KeyKind.Enter)));
                return keys;
            default:
                if (IsClaim && Left.Length == 0)
                {
                    keys.AddRange([BigKey.Letter('S', "it was set as told here"), BigKey.Letter('A', "it was left as found")]);
                }

                break;
        }

        if (Answers.Count > 0)
        {
            keys.Add(BigKey.Letter('B', "take the last answer back") with { IsRare = true });
        }

        return keys;
    }

    /// <summary>Takes what is heard now: a universe that was heard and has no sender any more carries no look.</summary>
    public void Hear(RigPicture? picture)
    {
        if (_isLive && picture is not null && _course is AskCourse course)
        {
            course.Silent = [.. picture.Universes.Where(universe => universe.Summary.Streams.Count > 0 && universe.Summary.Streams.All(stream => stream.Silent || stream.Terminated)).Select(universe => universe.Summary.Id)];
        }
    }

    /// <summary>Takes a key; false where it means nothing here.</summary>
    public bool Press(ScreenKey key)
    {
        if (_busy || Problem.Length > 0 || _course is not AskCourse course)
        {
            return false;
        }

        Said = "";
        Version++;
        if (course.Step == AskStep.Clear)
        {
            return Type(course, key);
        }

        char letter = char.ToUpperInvariant(key.Letter);
        if (letter == 'B' && Answers.Count > 0)
        {
            Reopen();
            Work(() => course.TakeBack());
            return true;
        }

        switch (course.Step)
        {
            case AskStep.Audience when letter is 'N' or 'Y':
                Work(() => course.Audience(letter == 'Y'));
                return true;
            case AskStep.Controller when letter >= '1' && letter < '2' + Pages.Length:
                int page = letter - '2';
                Work(() => course.Choose(page < 0 ? new AskController("ranges", 0) : new AskController("faders", Pages[page])));
                return true;
            case AskStep.Controller when letter == '2' + Pages.Length && HasLooks:
                Work(() => Looks(course));
                return true;
            case AskStep.Question when SeenBy(letter) is Seen seen:
                Work(() =>
                {
                    course.See(seen);
                    Said = course.Told;
                });
                return true;
            case AskStep.Ended when IsClaim && Left.Length == 0 && letter is 'S' or 'A':
                Left = letter == 'S' ? "set as told" : "as found";
                _log?.Write(Unit, "as left", letter == 'S' ? "set as told: " + Answer!.Action : "as found");
                return true;
            default:
                return false;
        }
    }

    private bool HasLooks => _course!.Gathered.Histories.Any(history => history.Samples > 1);

    // Where there are none, the other keys still serve.
    private void Looks(AskCourse course)
    {
        try
        {
            course.Choose(new AskController("looks", 0));
        }
        catch (UsageException) when (course.Session is null)
        {
            Said = "No look of this capture may be asked for: none stood still with everything but intensity and colour as it is held at the end. Press 1 for ranges, or 2 to 5 for pages of faders.";
        }
    }

    private static Seen? SeenBy(char letter) => letter switch
    {
        'L' => Seen.Lit,
        'D' => Seen.Dark,
        'U' => Seen.Unsure,
        'F' => new Seen(SeenKind.Flashing),
        >= '1' and <= '7' => new Seen(SeenKind.Lit, Colours[letter - '1']),
        _ => null,
    };

    private bool Type(AskCourse course, ScreenKey key)
    {
        switch (key.Kind)
        {
            case KeyKind.Letter when !char.IsControl(key.Letter) && Typed.Length <= AskSafety.Phrase.Length:
                Typed += key.Letter;
                return true;
            case KeyKind.Erase:
                Typed = Typed.Length > 0 ? Typed[..^1] : "";
                return true;
            case KeyKind.Enter:
                string typed = Typed;
                Typed = "";
                Said = typed.Length > 0 && !typed.Trim().Equals(AskSafety.Phrase, StringComparison.OrdinalIgnoreCase) ? "That is not the sentence: these slots are left alone." : "";
                Work(() => course.Clear(typed));
                return true;
            default:
                return false;
        }
    }

    // What was said of the end is taken back with it.
    private void Reopen()
    {
        if (Left.Length > 0)
        {
            _log?.TakeBack();
            Left = "";
        }

        if (IsClosed)
        {
            _log?.TakeBack();
            IsClosed = false;
        }

        Answer = null;
    }

    private void Work(Action step)
    {
        _busy = true;
        Version++;
        _work(() =>
        {
            try
            {
                step();
                AskCourse course = _course!;
                Words = course.Words;
                Cautions = course.Step is AskStep.Question or AskStep.Clear or AskStep.Controller ? [course.Caution] : [];
                if (course.Step == AskStep.Ended)
                {
                    Answer = course.Answer();
                    Cautions = Answer.Cautions;
                    _log?.Write(Unit, "as found", Answer.Sentence);
                    IsClosed = _log is not null;
                }
            }
            catch (Exception refused) when (refused is UsageException or InputException)
            {
                Problem = Printable.Text(refused.Message);
            }
            finally
            {
                Version++;
                _busy = false;
            }
        });
    }
}
