using System.CommandLine;

using DmxProbe.Cli.Ask;
using DmxProbe.Cli.Text;
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
        Option<string> unit = new("--unit") { HelpName = "UNIT", Description = "The unit that does not follow, as the sheet names it.", Required = true };
        Option<string?> trace = new("--trace")
        {
            HelpName = "FILE",
            Description = "Its measured light: CSV time,level or time,r,g,b; seconds from the capture's first record, or ISO 8601.",
        };
        AskOptions ask = new();
        Option<string?> region = new("--region") { HelpName = "NAME", Description = "Which region of the trace, where it has several." };
        Option<string?> mode = new("--mode") { HelpName = "MODE", Description = "The mode the unit is known to be in; by itself every mode of its type is tried." };
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
        foreach (Option option in new Option[] { sheet, unit, trace, region, mode, map })
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
            using AskStarted? started = ask.Start(parsed, common, host, words, hasTrace: traceName is not null);
            LocateAsked asked = new(
                parsed.GetRequiredValue(unit),
                traceName,
                parsed.GetValue(region),
                parsed.GetValue(map),
                parsed.GetValue(mode))
            {
                Also = started?.Asked,
            };
            using StreamReader? light = traceName is null ? null : TextFile.Open(traceName);
            using ICaptureSource source = Inputs.OpenMerged(words, live.Asked(parsed, host, inUse.Patch.Universes));
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
}
