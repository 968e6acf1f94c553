using System.CommandLine;

using DmxProbe.Cli.Ask;
using DmxProbe.Cli.Text;
using DmxProbe.Protocols.Rdm;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Json;

namespace DmxProbe.Cli;

/// <summary><c>locate INPUT</c>: which address and mode a light is really reading.</summary>
internal static class LocateCommand
{
    /// <summary>Builds the command.</summary>
    public static Command Create(CommonOptions common, ProgramHost host)
    {
        Argument<string[]> inputs = Inputs.Several();
        Option<string> sheet = new("--patch") { HelpName = "SHEET", Description = "The patch sheet.", Required = true };
        Option<string?> unit = new("--unit") { HelpName = "UNIT", Description = "The unit that does not follow, as the sheet names it; of two units of one name, NAME line N." };
        Option<string?> units = new("--units") { HelpName = "LIST", Description = "Several units instead, each with a region of the trace: LX1-1=1,LX1-2=2; 'all' = every region that bears a unit's name. What they have in common is said first." };
        Option<string?> trace = new("--trace")
        {
            HelpName = "FILE",
            Description = "Its measured light: CSV time,level or time,r,g,b; seconds from the capture's first record, or ISO 8601.",
        };
        AskOptions ask = new();
        Option<string?> region = new("--region") { HelpName = "NAME", Description = "Which region of the trace, where it has several." };
        Option<string?> mode = new("--mode") { HelpName = "MODE", Description = "The mode the unit is known to be in; by itself every mode of its type is tried." };
        Option<string?> uid = new("--uid") { HelpName = "UID", Description = "The unit's RDM UID, from its label or menu (7FF0:12345678): what that device says of its address in the capture counts as evidence." };
        SheetFlags sheets = new();
        Option<string?> map = SheetOptions.Map();
        ProbeCommand command = new("locate", "Which address and mode a light is really reading, from what was sent and what the light did.")
        {
            Examples =
            [
                (
                    "dmxprobe locate tonight.pcapng --patch patch.csv --unit LX1-6 --trace lx1-6.csv",
                    "names the address, the human error behind it, what to set, and the look that confirms it"),
                (
                    "dmxprobe locate tonight.pcapng --patch patch.csv --trace wide.trace.csv --units LX1-5=1,LX1-6=2,LX1-7=3",
                    "several lights of one video: from which unit on everything is shifted, and why; twins and swapped units"),
                (
                    "dmxprobe locate tonight.pcapng --patch patch.csv --unit LX1-6 --notes notes.csv",
                    "the same from what you noted: 'dark', 'lit', a colour, taps, what the unit's menu shows"),
                (
                    "dmxprobe locate tonight.pcapng --patch patch.csv --unit LX1-6 --ask --controller ranges --log lx1-6.csv",
                    "asks you to raise slots, what tells most first, until a claim is possible; run it again to go on"),
            ],
            ExitCodes =
            [
                (ExitCode.Clean, "the light reads what the sheet says"),
                (ExitCode.FaultsFound, "it reads another address or mode"),
                (ExitCode.CouldNotRun, "could not run"),
                (ExitCode.NotEnoughEvidence, "not enough evidence for one address, or nothing captured explains the light"),
            ],
            Notes =
            [
                "A light that follows the same cues from data that was not captured cannot be told by listening: always do the confirming look.",
            ],
        };
        LiveOptions live = new();
        command.Add(inputs);
        foreach (Option option in new Option[] { sheet, unit, units, trace, region, mode, uid, map })
        {
            command.Add(option);
        }

        ask.AddTo(command);
        sheets.AddTo(command);
        live.AddTo(command);
        command.SetAction(parsed =>
        {
            SheetInUse inUse = sheets.Open(parsed, parsed.GetRequiredValue(sheet));
            string[] words = parsed.GetRequiredValue(inputs);
            string? traceName = parsed.GetValue(trace);
            if (LocateSeveral(parsed, units, unit, region, mode, uid) is string list)
            {
                string several = traceName ?? throw new UsageException("--units needs --trace, with a region for each unit");
                return Together(common, host, parsed, inUse, list, several, parsed.GetValue(map), words, live);
            }

            LiveAsked listening = live.Asked(parsed, host, inUse.Patch.Universes);
            using HeldCapture capture = new(words, listening);
            using AskStarted? started = ask.Start(parsed, common, host, words, hasTrace: traceName is not null, listening.Length, capture.ListenOn);
            LocateAsked asked = new(
                parsed.GetValue(unit) ?? throw new UsageException("locate needs --unit, the unit that does not follow, or --units for several at once"),
                traceName,
                parsed.GetValue(region),
                parsed.GetValue(map),
                parsed.GetValue(mode))
            {
                Uid = UidOf(parsed.GetValue(uid)),
                Also = started?.Asked,
            };
            using StreamReader? light = traceName is null ? null : TextFile.Open(traceName);
            ICaptureSource source = capture.Open();
            if (started?.Wire is not null)
            {
                // Ctrl-C ends the listening and begins the questions: they take as long as they take.
                host.EndsByItself();
            }

            LocateRun run = LocateRun.Of(source, inUse.Patch, inUse.Charts, asked, light, words.Any(Inputs.IsLive) ? CancellationToken.None : host.Stop);
            if (parsed.GetValue(common.Json))
            {
                JsonOutput.Write(host, stream => LocateJson.Write(stream, run.Result, run.About, run.Answer));
            }
            else
            {
                TextPage page = common.Page(parsed, host);
                LocateText.Write(page, run, inUse.Recognition);
                page.WriteTo(host.Output);
            }

            started?.Close(run);
            return run.ExitCode;
        });
        return command;
    }

    private static string? LocateSeveral(ParseResult parsed, Option<string?> units, params Option<string?>[] alone)
    {
        string? list = parsed.GetValue(units);
        Option<string?>? other = list is null ? null : alone.FirstOrDefault(option => parsed.GetValue(option) is not null);
        return other is null ? list
            : throw new UsageException($"--units and {other.Name} do not go together: --units names each unit and its region itself");
    }

    private static int Together(
        CommonOptions common, ProgramHost host, ParseResult parsed, SheetInUse inUse, string units, string traceName, string? map, string[] words, LiveOptions live)
    {
        using StreamReader light = TextFile.Open(traceName);
        using ICaptureSource source = Inputs.OpenDated(words, live.Asked(parsed, host, inUse.Patch.Universes));
        LocateTogetherRun run = LocateTogetherRun.Of(
            source, inUse.Patch, inUse.Charts, units, traceName, map, light, words.Any(Inputs.IsLive) ? CancellationToken.None : host.Stop);
        if (parsed.GetValue(common.Json))
        {
            JsonOutput.Write(host, stream => LocateTogetherJson.Write(stream, run.Result, run.Cases, run.Answers, run.Statements, run.LeftOut));
        }
        else
        {
            TextPage page = common.Page(parsed, host);
            LocateTogetherText.Write(page, run, inUse.Recognition);
            page.WriteTo(host.Output);
        }

        return run.ExitCode;
    }

    private static RdmUid? UidOf(string? text) =>
        text is null ? null
        : RdmUid.TryParse(text, out RdmUid uid) ? uid
        : throw new UsageException($"--uid: expected a UID of twelve hexadecimal digits such as 7FF0:12345678, found '{text}'");
}
