using System.CommandLine;

using DmxProbe.Cli.Text;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Json;

namespace DmxProbe.Cli;

/// <summary><c>explain INPUT</c>: what a unit should be doing, and why.</summary>
internal static class ExplainCommand
{
    /// <summary>Builds the command.</summary>
    public static Command Create(CommonOptions common, ProgramHost host)
    {
        Argument<string[]> inputs = Inputs.Several();
        Option<string> sheet = new("--patch") { HelpName = "SHEET", Description = "The patch sheet.", Required = true };
        Option<string> unit = new("--unit") { HelpName = "UNIT", Description = "The unit, as the sheet names it; of two units of one name, NAME line N.", Required = true };
        Option<string?> at = new("--at") { HelpName = "TIME", Description = "When: seconds from the first record (12.5), a time of day (19:41:07) or ISO 8601; by itself the end of the capture." };
        Option<int?> faders = new("--faders-per-page") { HelpName = "N", Description = "Also name page and fader of each slot, for a controller with N faders on a page." };
        Option<string?> map = SheetOptions.Map();
        SheetFlags sheets = new();
        ProbeCommand command = new("explain", "What a unit should be doing at a time, slot by slot, and why it is dark, still or flashing.")
        {
            Examples =
            [
                ("dmxprobe explain tonight.pcapng --patch patch.csv --unit LX1-6", "at the end of the capture"),
                ("dmxprobe explain net --for 5s --patch patch.csv --unit LX1-6", "now, from the network"),
                ("dmxprobe explain tonight.pcapng --patch patch.csv --unit LX1-6 --at 19:41:07 --faders-per-page 12", "at a time, with the faders of a small controller"),
            ],
            ExitCodes =
            [
                (ExitCode.Clean, "explained: somebody sends the unit its slots"),
                (ExitCode.FaultsFound, "nobody sends them, or several senders decide together and do not agree"),
                (ExitCode.CouldNotRun, "could not run"),
            ],
            Notes = ["This is what the unit is told, not what it does: a light that differs has another address or mode (locate), or a fault of its own."],
        };
        command.Add(inputs);
        foreach (Option option in new Option[] { sheet, unit, at, faders, map })
        {
            command.Add(option);
        }

        LiveOptions live = new();
        live.AddTo(command);
        sheets.AddTo(command);
        command.SetAction(parsed =>
        {
            int? perPage = parsed.GetValue(faders);
            if (perPage is < 1 or > 512)
            {
                throw new UsageException($"--faders-per-page: expected 1 to 512, found {perPage}");
            }

            TimeZoneInfo zone = common.Zone(parsed, host);
            AskedTime? asked = parsed.GetValue(at) is string text ? AskedTime.Parse(text, zone, "--at") : null;
            SheetInUse inUse = sheets.Open(parsed, parsed.GetRequiredValue(sheet));
            string[] names = parsed.GetRequiredValue(inputs);
            using ICaptureSource source = Inputs.OpenMerged(names, live.Asked(parsed, host, inUse.Patch.Universes));
            CancellationToken stop = names.Any(Inputs.IsLive) ? CancellationToken.None : host.Stop;
            ExplainRun run = ExplainRun.Of(source, inUse, parsed.GetRequiredValue(unit), parsed.GetValue(map), asked, stop);
            if (parsed.GetValue(common.Json))
            {
                JsonOutput.Write(host, stream => ExplainJson.Write(stream, run.Explanation, perPage));
            }
            else
            {
                TextPage page = common.Page(parsed, host);
                ExplainText.Write(page, run, inUse.Recognition, perPage, new WallClock(zone, run.Survey.First, run.Survey.Last));
                page.WriteTo(host.Output);
            }

            return run.ExitCode;
        });
        return command;
    }
}
