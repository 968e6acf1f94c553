using System.Globalization;

using DmxProbe.Analysis.Locate;
using DmxProbe.Analysis.Locate.Ask;
using DmxProbe.Cli.Text;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Text;

namespace DmxProbe.Cli.Ask;

/// <summary>Puts the guided questions to a person, or to a script of answers, line by line.</summary>
/// <param name="host">The process.</param>
/// <param name="answers">Where answers come from.</param>
/// <param name="output">Where questions go.</param>
/// <param name="page">Makes an empty page.</param>
/// <param name="controller">What is at hand.</param>
/// <param name="log">The decision log; null = none.</param>
/// <param name="wire">The live inputs; null where there are only files: then what was asked for counts as sent.</param>
internal sealed class AskDialogue(
    ProgramHost host, TextReader answers, TextWriter output, Func<TextPage> page, AskController controller, AskLog? log, AskWire? wire)
{
    private const int MostMisunderstood = 20;
    private const double WorthAsking = 0.03;
    private const double Far = 0.5;
    private const string Help = "Answer with: l (lit), d (dark), a colour (red, amber, green, cyan, blue, magenta, white), flashing, u (cannot tell), b (take the last answer back), q (stop here).";

    private readonly HashSet<int> _offered = [];
    private int _misunderstood;
    private bool _warned;
    private bool _ended;

    /// <summary>Asks; null where nothing was asked, because an audience is in or the person left.</summary>
    public AskSession? Run(LocateGathered gathered)
    {
        string unit = Plain(gathered.About.Unit.Unit);
        Say("Before anything is raised: is an audience in? (yes or no)");
        bool? audience = Audience();
        if (audience is null)
        {
            return null;
        }

        if (audience == true)
        {
            Say("With an audience in nothing is raised: the answer rests on what was heard and noted so far. Note looks and taps with --notes, and ask again when the house is empty.");
            return null;
        }

        // Ctrl-C may have ended the listening; a second one ends the process anyway.
        CancellationToken stop = host.Stop.IsCancellationRequested ? CancellationToken.None : host.Stop;
        wire?.Start();
        AskSafety safety = new(gathered.Rig);
        IAskPlanner planner = controller.Planner(gathered, safety);
        bool hasTrace = gathered.About.Question.Trace is not null;
        AskSession session = new(gathered.Posterior, safety, planner, hasTrace ? () => gathered.Judge().Claim == LocateClaim.Found : null);
        Say($"{unit} may read anything, so it may move, flash or strike: nobody at it, nobody on a ladder under it. {Skipped(gathered, safety)}{Help}");
        while (!_ended)
        {
            stop.ThrowIfCancellationRequested();
            if (wire?.Levels(gathered.Rig.Space.Universes, gathered.Rig.Held) is { } standing)
            {
                session.Stands(standing);
            }

            AskQuestion? question = session.Next();
            bool far = session.Posterior.Probability[session.Posterior.Best] < Far;
            if ((question is null || (question.Bits < WorthAsking && question.Confirms is null && far)) &&
                session.End is AskEnd.NothingLeft or AskEnd.NoConfirmingLook or AskEnd.Open && controller.Word != "looks" && Offer(gathered, safety))
            {
                continue;
            }

            if (question is null)
            {
                break;
            }

            Ask(gathered, safety, session, question);
        }

        return session;
    }

    /// <summary>Logs what was found, and asks what was left.</summary>
    public void Close(string unit, string sentence, bool isClaim)
    {
        if (log is null)
        {
            return;
        }

        log.Write(unit, "as found", sentence);
        if (!_ended && isClaim)
        {
            Say("How was it left? (for the log: what was set or patched; Enter: as found)");
            string? text = answers.ReadLine();
            log.Write(unit, "as left", string.IsNullOrWhiteSpace(text) ? "as found" : text.Trim());
        }
    }

    private void Ask(LocateGathered gathered, AskSafety safety, AskSession session, AskQuestion question)
    {
        string heading = question.Confirms is null ? $"Question {session.Answered + 1}" : $"Question {session.Answered + 1}, the confirming look";
        TextPage text = page();
        text.Blank();
        text.Paragraph($"{heading}: {Capital(AskWords.Question(gathered.Rig, question))}");
        text.WriteTo(output);
        while (true)
        {
            string? line = answers.ReadLine();
            string word = line?.Trim() ?? "q";
            if (word.StartsWith('#'))
            {
                continue;
            }

            switch (word.ToUpperInvariant())
            {
                case "Q" or "QUIT":
                    _ended = true;
                    return;
                case "B" or "BACK":
                    Say(session.TakeBack() ? "The last answer is taken back." : "There is no answer of this run to take back.");
                    log?.TakeBack();
                    return;
                case "?" or "H" or "HELP":
                    Say(Help);
                    continue;
            }

            if (SeenWords.Read(word) is { Kind: SeenKind.Dark or SeenKind.Lit or SeenKind.Flashing or SeenKind.Unsure } seen)
            {
                IReadOnlyList<byte[]>? sent = wire?.Levels(gathered.Rig.Space.Universes, question.Levels);
                if (sent is not null && !IsAsAsked(WireCheck.Of(question, sent, safety), gathered.Rig))
                {
                    return;
                }

                string raised = RaisedText.Write(gathered.Rig, sent is null ? question.Raised : safety.Up(sent));
                session.Answer(question, seen, $"answer {session.Answered + 1}, '{seen}' with {(question.Look is Timestamp look ? $"the look of {look.ToString()[11..21]}" : Short(raised))} up", Now(), sent);
                log?.Write(gathered.About.Unit.Unit, seen.ToString(), raised);
                return;
            }

            Misunderstood(word);
        }
    }

    /// <summary>
    /// Says where the wire carries something else than was asked for. The answer then counts for what was sent; where nothing of
    /// it was, it is asked for once more.
    /// </summary>
    private bool IsAsAsked(WireCheck check, AskRig rig)
    {
        string words = check.Words(rig);
        bool again = check.IsNothingUp && !_warned;
        _warned = again;
        if (words.Length > 0)
        {
            Say(words + (again
                ? ": nothing of what was asked for arrives here. Is it the right controller, output and universe? Bring it up, and answer again."
                : ". Your answer counts for what is sent, not for what was asked."));
        }

        return !again;
    }

    private bool? Audience()
    {
        while (answers.ReadLine() is string line)
        {
            switch (line.Trim().ToUpperInvariant())
            {
                case "N" or "NO":
                    return false;
                case "Y" or "YES":
                    return true;
                case "Q" or "QUIT":
                    _ended = true;
                    return null;
                case ['#', ..]:
                    continue;
                default:
                    Misunderstood(line.Trim(), "yes or no");
                    continue;
            }
        }

        _ended = true;
        return null;
    }

    /// <summary>Offers to raise unpatched slots, a universe at a time; true where somebody typed the sentence.</summary>
    private bool Offer(LocateGathered gathered, AskSafety safety)
    {
        foreach (int universe in Enumerable.Range(0, gathered.Rig.Space.Universes.Count).OrderByDescending(u => Mass(gathered, u)))
        {
            if (safety.Cleared.Contains(universe) || !_offered.Add(universe))
            {
                continue;
            }

            string name = gathered.Rig.SheetUniverses[universe] is >= 0 and int number
                ? string.Create(CultureInfo.InvariantCulture, $"universe {number}") : gathered.Rig.Space.Universes[universe].Label;
            Say($"The slots of the sheet alone tell too little more. Slots of {name} that are not on the sheet count as unknown, and raising them could start anything that is on them. If you know it, type: {AskSafety.Phrase} (Enter: leave them alone)");
            string? typed = answers.ReadLine();
            _ended |= typed is null;
            if (typed?.Trim().Equals(AskSafety.Phrase, StringComparison.OrdinalIgnoreCase) == true)
            {
                safety.Clear(universe);
                return true;
            }
        }

        return false;
    }

    private static double Mass(LocateGathered gathered, int universe)
    {
        double mass = 0;
        for (int i = 0; i < gathered.Rig.Space.Count; i++)
        {
            mass += gathered.Rig.Space.PlaceAt(i).Universe == universe ? gathered.Posterior.Probability[i] : 0;
        }

        return mass;
    }

    private static string Skipped(LocateGathered gathered, AskSafety safety)
    {
        string[] machines =
        [
            .. gathered.Rig.Units.Where(unit => unit.Universe >= 0 && Enumerable.Range(unit.Address, Math.Max(unit.Mode?.Footprint ?? 1, 1))
                .Any(slot => slot <= SlotHistory.SlotCount && safety.UseOf(unit.Universe, slot) == SlotUse.Hazard)).Select(unit => Plain(unit.Name)),
        ];
        return machines.Length == 0 ? "" : $"Never raised: {string.Join(", ", machines.Take(8))}{(machines.Length > 8 ? " and more" : "")}. ";
    }

    private void Misunderstood(string word, string expected = "l, d, a colour, flashing, u, b, q or ?")
    {
        if (++_misunderstood > MostMisunderstood)
        {
            throw new UsageException($"{MostMisunderstood} answers were not understood, the last of them '{word}': expected {expected}; check the answers");
        }

        Say($"'{word}' is not understood: expected {expected}.");
    }

    private void Say(string sentence)
    {
        TextPage text = page();
        text.Blank();
        text.Paragraph(sentence);
        text.WriteTo(output);
    }

    private Timestamp Now() => Timestamp.FromUnixNanoseconds((host.Clock.GetUtcNow() - DateTimeOffset.UnixEpoch).Ticks * 100);

    private static string Short(string text) => text.Length > 60 ? text[..57] + "..." : text;

    private static string Capital(string text) => char.ToUpperInvariant(text[0]) + text[1..];

    private static string Plain(string name) => Printable.Text(name);
}
