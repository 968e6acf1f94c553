using DmxProbe.Analysis.Locate.Ask;
using DmxProbe.Cli.Text;

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
    ProgramHost host, TextReader answers, TextWriter output, Func<TextPage> page, AskController controller, AskLog? log, IAskWire? wire)
{
    private const int MostMisunderstood = 20;
    private const string Help = "Answer with: l (lit), d (dark), a colour (red, amber, green, cyan, blue, magenta, white), flashing, u (cannot tell), b (take the last answer back), q (stop here).";

    private int _misunderstood;
    private int _lines;
    private bool _ended;

    /// <summary>Asks; null where nothing was asked, because an audience is in or the person left.</summary>
    public AskSession? Run(LocateGathered gathered)
    {
        // Ctrl-C may have ended the listening; a second one ends the process anyway.
        CancellationToken stop = host.Stop.IsCancellationRequested ? CancellationToken.None : host.Stop;
        AskCourse course = new(gathered, controller, log, host.Clock, wire);
        if (gathered.Refusal.Length > 0)
        {
            throw new UsageException(gathered.Refusal);
        }

        Say(course.Words + " (yes or no)");
        if (Audience() is not bool isIn)
        {
            return null;
        }

        course.Audience(isIn);
        if (course.HasAudience)
        {
            Say(AskCourse.WithAudience);
            return null;
        }

        Say($"{course.Caution} {Help}");
        if (course.Shared.Length > 0)
        {
            Say(course.Shared);
        }

        while (!_ended && course.Step != AskStep.Ended)
        {
            stop.ThrowIfCancellationRequested();
            if (course.Step == AskStep.Clear)
            {
                Say(course.Words + " (Enter: leave them alone)");
                string? typed = ReadLine();
                _ended |= typed is null;
                course.Clear(typed);
            }
            else
            {
                Ask(course);
            }
        }

        return course.Session;
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
            string? text = ReadLine();
            log.Write(unit, "as left", string.IsNullOrWhiteSpace(text) ? "as found" : text.Trim());
        }
    }

    private void Ask(AskCourse course)
    {
        int number = course.Session!.Answered + 1;
        TextPage text = page();
        text.Blank();
        text.Paragraph($"Question {number}{(course.Confirms ? ", the confirming look" : "")}: {course.Words}");
        if (course.Dead.Length > 0)
        {
            text.Paragraph(course.Dead);
        }
        else if (course.AlsoDead.Length > 0)
        {
            text.Paragraph($"Mind: {course.AlsoDead}");
        }

        text.WriteTo(output);
        while (true)
        {
            string? line = ReadLine();
            string word = line?.Trim() ?? "q";
            if (line is null)
            {
                Say($"The answers ended at line {_lines}, and question {number} is still open: the result stands as it is.");
            }

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
                    Say(course.TakeBack() ? "The last answer is taken back." : "There is no answer of this run to take back.");
                    return;
                case "?" or "H" or "HELP":
                    Say(Help);
                    continue;
            }

            if (SeenWords.Read(word) is Seen seen && course.See(seen))
            {
                if (course.Told.Length > 0)
                {
                    Say(course.Told);
                }

                return;
            }

            Misunderstood(word);
        }
    }

    private bool? Audience()
    {
        while (ReadLine() is string line)
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

    private void Misunderstood(string word, string expected = "l, d, a colour, flashing, u, b, q or ?")
    {
        if (++_misunderstood > MostMisunderstood)
        {
            throw new UsageException($"{MostMisunderstood} answers were not understood, the last of them '{word}': expected {expected}; check the answers");
        }

        Say($"'{word}' is not understood: expected {expected}.");
    }

    private string? ReadLine()
    {
        string? line = answers.ReadLine();
        _lines += line is null ? 0 : 1;
        return line;
    }

    private void Say(string sentence)
    {
        TextPage text = page();
        text.Blank();
        text.Paragraph(sentence);
        text.WriteTo(output);
    }
}
