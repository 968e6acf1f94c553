using System.CommandLine;

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
        Option<string> unit = new("--unit") { HelpName = "UNIT", Description = "The unit that does not follow, as the sheet names it; of two units of one name, NAME line N.", Required = true };
        Option<string> trace = new("--trace")
        {
            HelpName = "FILE",
            Description = "Its measured light: CSV time,level or time,r,g,b; seconds from the capture's first record, or ISO 8601.",
            Required = true,
        };
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
        foreach (Option option in new Option[] { sheet, unit, trace, region, mode, uid, map })
        {
            command.Add(option);
        }

        sheets.AddTo(command);
        live.AddTo(command);
        command.SetAction(parsed =>
        {
            SheetInUse inUse = sheets.Open(parsed, parsed.GetRequiredValue(sheet));
            LocateAsked asked = new(
                parsed.GetRequiredValue(unit),
                parsed.GetRequiredValue(trace),
                parsed.GetValue(region),
                parsed.GetValue(map),
                parsed.GetValue(mode))
            {
                Uid = UidOf(parsed.GetValue(uid)),
            };
            string[] words = parsed.GetRequiredValue(inputs);
            using StreamReader light = TextFile.Open(asked.TraceName);
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

            return run.ExitCode;
        });
        return command;
    }

    private static RdmUid? UidOf(string? text) =>
        text is null ? null
        : RdmUid.TryParse(text, out RdmUid uid) ? uid
        : throw new UsageException($"--uid: expected a UID of twelve hexadecimal digits such as 7FF0:12345678, found '{text}'");
}
