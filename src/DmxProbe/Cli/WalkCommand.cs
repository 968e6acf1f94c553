using System.CommandLine;

using DmxProbe.Cli.Text;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Reporting.Json;

namespace DmxProbe.Cli;

/// <summary><c>walk INPUT</c>: the function check, from what was moved.</summary>
internal static class WalkCommand
{
    /// <summary>Builds the command.</summary>
    public static Command Create(CommonOptions common, ProgramHost host)
    {
        Argument<string[]> inputs = Inputs.Several();
        Option<string> sheet = new("--patch") { HelpName = "SHEET", Description = "The patch sheet.", Required = true };
        Option<string?> notes = new("--notes") { HelpName = "FILE", Description = "What you worked on: CSV time,unit, a line for each time you turned to another unit. Moves of another unit's slots are then told." };
        Option<string?> asFound = new("--as-found") { HelpName = "FILE", Description = "Write the sheet as found, in walking order with what was moved; it reads back as a patch sheet. The file must not exist." };
        Option<string?> map = SheetOptions.Map();
        SheetFlags sheets = new();
        ProbeCommand command = new("walk", "The function check: names what was moved one fader at a time, ticks it off, and says what was never exercised.")
        {
            Examples =
            [
                ("dmxprobe walk check.pcapng --patch patch.csv", "what was exercised, and what does not fit the sheet"),
                ("dmxprobe walk net --patch patch.csv --map 1=artnet:0,2=sacn:2", "while you move one fader at a time; Ctrl-C for the answer"),
                ("dmxprobe walk check.pcapng --patch patch.csv --notes notes.csv --as-found found.csv", "against what you meant to move; writes the sheet as found"),
            ],
            ExitCodes =
            [
                (ExitCode.Clean, "every move fits the sheet"),
                (ExitCode.FaultsFound, "a slot moved that belongs to no unit, to two, to another unit than the one worked on, or that is not to be exercised; or a unit was noted as not right, or an input was not read to its end"),
                (ExitCode.CouldNotRun, "could not run"),
            ],
            Notes =
            [
                "Only listens. What hurts, resets or is not understood is listed as not to be exercised, never as missing.",
                "A function counts as exercised when it was moved alone, or in a group of the same function; what moved within a cue does not count.",
            ],
        };
        command.Add(inputs);
        foreach (Option option in new Option[] { sheet, notes, asFound, map })
        {
            command.Add(option);
        }

        Option<bool> screen = new("--screen") { Description = "Go through it on the screen, one key for each answer. --notes keeps what you say, also where there is no such file yet; a recording is played as it was." };
        command.Add(screen);
        LiveOptions live = new();
        live.AddTo(command);
        sheets.AddTo(command);
        command.SetAction(parsed =>
        {
            TimeZoneInfo zone = common.Zone(parsed, host);
            string[] names = parsed.GetRequiredValue(inputs);
            if (parsed.GetValue(map) is null && names.Contains("-"))
            {
                throw new UsageException("standard input is read once only, and finding the universes needs a reading of its own; say which is which with --map, as in --map 1=artnet:0,2=sacn:2");
            }

            if (parsed.GetValue(screen))
            {
                return WalkScreen.Show(parsed, names, common, host, live, sheets.Open(parsed, parsed.GetRequiredValue(sheet)), parsed.GetValue(map), parsed.GetValue(notes), parsed.GetValue(asFound));
            }

            bool isLive = names.Any(Inputs.IsLive);
            if (parsed.GetValue(map) is null && isLive)
            {
                throw new UsageException("a live input is heard once only, and finding the universes needs a reading of its own; say which is which with --map, as in --map 1=artnet:0,2=sacn:2");
            }

            string? found = Free(parsed.GetValue(asFound));

            SheetInUse inUse = sheets.Open(parsed, parsed.GetRequiredValue(sheet));
            string? said = parsed.GetValue(notes);
            WalkRun run = WalkRun.Of(() => Inputs.OpenMerged(names, live.Asked(parsed, host, inUse.Patch.Universes)), inUse, parsed.GetValue(map), said is null ? null : first => NotesFile.Read(said, inUse.Patch, first, zone), isLive ? CancellationToken.None : host.Stop, isLive || names.Contains("-"));
            WriteAsFound(run, found);
            if (parsed.GetValue(common.Json))
            {
                JsonOutput.Write(host, stream => WalkJson.Write(stream, run.Result, run.Remarks, run.Order, run.Map.Wire));
            }
            else
            {
                TextPage page = common.Page(parsed, host);
                WalkText.Write(page, run, inUse, parsed.GetValue(common.All), found, new WallClock(zone, run.Survey.First, run.Survey.Last));
                page.WriteTo(host.Output);
            }

            return run.ExitCode;
        });
        return command;
    }

    /// <summary>The name of a file that is to be written; null where none was named.</summary>
    /// <exception cref="UsageException">There is such a file.</exception>
    internal static string? Free(string? asFound) => asFound is not null && (File.Exists(asFound) || Directory.Exists(asFound))
        ? throw new UsageException($"{asFound}: there is such a file already, and nothing is written over; give --as-found another name")
        : asFound;

    /// <summary>Writes the sheet as found.</summary>
    internal static void WriteAsFound(WalkRun run, string? name)
    {
        if (name is null)
        {
            return;
        }

        using UnfinishedFile file = UnfinishedFile.Begin("--as-found", name);
        using (StreamWriter text = new(file.Stream, leaveOpen: true))
        {
            PatchWriter.Write(text, run.AsFound());
        }

        file.Finish();
    }
}
