using System.CommandLine;

using DmxProbe.Analysis.Locate.Ask;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Cli.Ask;

/// <summary>Options of <c>locate</c> for evidence beside a trace.</summary>
internal sealed class AskOptions
{
    private readonly Option<string[]> _notes = new("--notes")
    {
        HelpName = "FILE",
        Description = "What you saw: CSV time,unit,look with dark, lit, a colour, flashing, moving, tap, or rdm and the address that its menu or an RDM tool shows.",
        AllowMultipleArgumentsPerToken = false,
    };

    private readonly Option<bool> _ask = new("--ask") { Description = "Ask guided questions: you raise slots at your controller and say whether the light is lit. Asks first whether an audience is in." };
    private readonly Option<string?> _controller = new("--controller") { HelpName = "ranges|faders:N|looks", Description = "What you have at hand: a controller that raises ranges of slots, pages of N faders, or only looks that exist." };
    private readonly Option<string?> _answers = new("--answers") { HelpName = "FILE", Description = "Take the answers from a file, a line each (- = standard input)." };
    private readonly Option<string?> _log = new("--log") { HelpName = "FILE", Description = "The decision log: answers as they are given, what was found, how it was left. A second run with the same log goes on from there." };
    private readonly Option<bool> _tap = new("--tap") { Description = "Live inputs: press any key whenever the light reacts, until --for or Ctrl-C." };

    private readonly Option<bool> _screen = new("--screen") { Description = "Ask on the screen: large keys, one for each answer. Needs --ask and a terminal." };

    /// <summary>The option of the screens for the file that keeps what is answered on the guided ones.</summary>
    public static Option<string?> ScreenLog() =>
        new("--log") { HelpName = "FILE", Description = "Keep what is answered on the guided screens; they go on from it, and so do locate --log and walk --notes." };

    /// <summary>The file behind it; null where none was named.</summary>
    /// <exception cref="UsageException">There is no sheet, or the file is no such log.</exception>
    public static AskLog? Kept(string? name, string? sheet, ProgramHost host) =>
        name is null ? null
        : sheet is null ? throw new UsageException("--log keeps what is answered about units of the sheet, and no sheet is given; add --patch SHEET")
        : new AskLog(name, host.Clock);

    /// <summary>Adds them to a command.</summary>
    public void AddTo(Command command)
    {
        foreach (Option option in new Option[] { _notes, _ask, _screen, _controller, _answers, _log, _tap })
        {
            command.Add(option);
        }
    }

    /// <summary>Prepares what was asked for; null where there is only a trace.</summary>
    /// <param name="parsed">The command line.</param>
    /// <param name="common">The common options.</param>
    /// <param name="host">The process.</param>
    /// <param name="inputs">The inputs as they were named.</param>
    /// <param name="hasTrace">Whether there is a trace.</param>
    /// <param name="length">How long live inputs are listened to; null = until Ctrl-C.</param>
    /// <param name="listen">Opens the live inputs anew.</param>
    /// <exception cref="UsageException">The options do not go together.</exception>
    public AskStarted? Start(ParseResult parsed, CommonOptions common, ProgramHost host, IReadOnlyList<string> inputs, bool hasTrace, Duration? length, Func<ICaptureSource> listen)
    {
        string[] notes = parsed.GetValue(_notes) ?? [];
        bool asks = parsed.GetValue(_ask);
        bool taps = parsed.GetValue(_tap);
        string? logName = parsed.GetValue(_log);
        string? answerName = parsed.GetValue(_answers);
        if (!asks && (parsed.GetValue(_controller) is not null || answerName is not null))
        {
            throw new UsageException($"{(answerName is null ? "--controller" : "--answers")} is for guided questions; add --ask");
        }

        if (!hasTrace && notes.Length == 0 && !asks && !taps && logName is null)
        {
            throw new UsageException("locate needs to know what the light did: give --trace FILE (measured), --notes FILE (seen), --tap (a key when it reacts) or --ask (guided questions)");
        }

        if (!asks && !taps && notes.Length == 0 && logName is null)
        {
            return null;
        }

        bool onScreen = parsed.GetValue(_screen);
        if (onScreen && (!asks || answerName is not null || parsed.GetValue(common.Json) || host.ReadKey is null || Console.IsOutputRedirected))
        {
            throw new UsageException(!asks ? "--screen is for guided questions; add --ask" : "--screen needs a terminal and somebody at its keys; without them leave it out, then answers are lines");
        }

        AskController? controller = !asks || (onScreen && parsed.GetValue(_controller) is null) ? null : AskController.Parse(parsed.GetValue(_controller));
        TapKeys? keys = taps ? Keys(host, inputs, length) : null;
        if (answerName == "-" && inputs.Contains("-"))
        {
            throw new UsageException("standard input cannot be both the capture and the answers; give one of them as a file");
        }

        AskLog? log = logName is null ? null : new AskLog(logName, host.Clock);
        StreamReader? file = answerName is null or "-" ? null : TextFile.Open(answerName);
        bool json = parsed.GetValue(common.Json);
        AskWire? wire = asks && inputs.Any(Inputs.IsLive) ? new AskWire(listen) : null;
        AskDialogue? dialogue = controller is null || onScreen ? null
            : new AskDialogue(host, file ?? host.Input, json ? host.Error : host.Output, () => common.Page(parsed, host), controller, log, wire);
        keys?.Start();
        AskScreen? screen = onScreen ? new AskScreen(host, common.Zone(parsed, host), controller, log, wire, host.Color && !parsed.GetValue(common.NoColor)) : null;
        Func<LocateGathered, AskSession?>? questions = screen is not null ? screen.Run : dialogue is not null ? dialogue.Run : null;
        AskAsked asked = new(notes, log, common.Zone(parsed, host), keys, questions);
        return new AskStarted(asked, dialogue, log, file, wire) { Screen = screen };
    }

    private static TapKeys Keys(ProgramHost host, IReadOnlyList<string> inputs, Duration? length)
    {
        if (!inputs.Any(Inputs.IsLive))
        {
            throw new UsageException("--tap is for live inputs: a capture file is over; write taps of its time into a notes file, as in 12.5,LX1-6,tap");
        }

        return host.ReadKey is null
            ? throw new UsageException("--tap needs a keyboard, and none is attached; write taps into a notes file, as in 12.5,LX1-6,tap")
            : new TapKeys(host.ReadKey, host.Clock, Tell, length is Duration whole ? TimeSpan.FromSeconds(whole.TotalSeconds) : null);

        void Tell(string line)
        {
            lock (host.Error)
            {
                host.Error.WriteLine(line);
                host.Error.Flush();
            }
        }
    }
}
