using System.CommandLine;

using DmxProbe.Cli.Text;
using DmxProbe.Reporting.Json;

namespace DmxProbe.Cli;

/// <summary><c>report INPUT.. -o FILE.html</c>: the hand-over report.</summary>
internal static class ReportCommand
{
    /// <summary>Builds the command.</summary>
    public static Command Create(CommonOptions common, ProgramHost host)
    {
        Argument<string[]> inputs = Inputs.Several();
        Option<string> output = new("--output", "-o") { HelpName = "FILE", Description = "The page to write, one HTML file; it must not exist.", Required = true };
        Option<string?> sheet = new("--patch") { HelpName = "SHEET", Description = "The patch sheet." };
        Option<string[]> units = new("--unit") { HelpName = "UNIT", Description = "A unit whose slots are to be drawn over time; may be repeated; needs --patch.", AllowMultipleArgumentsPerToken = false };
        Option<string?> trace = new("--trace") { HelpName = "FILE", Description = "The measured light of the one unit given: the report then says which address it reads, and shows why." };
        Option<string?> map = SheetOptions.Map();
        Option<string?> title = new("--title") { HelpName = "TEXT", Description = "Title of the page." };
        Option<string?> place = new("--place") { HelpName = "TEXT", Description = "Where it was measured." };
        Option<string?> by = new("--by") { HelpName = "TEXT", Description = "Who measured." };
        Option<string[]> connected = new("--connected") { HelpName = "TEXT", Description = "What was connected where; may be repeated.", AllowMultipleArgumentsPerToken = false };
        Option<string[]> workarounds = new("--workaround") { HelpName = "TEXT", Description = "A work-around in force; may be repeated.", AllowMultipleArgumentsPerToken = false };
        Option<string[]> untested = new("--not-tested") { HelpName = "TEXT", Description = "What was not tested, beside what the program knows itself; may be repeated.", AllowMultipleArgumentsPerToken = false };
        SheetFlags sheets = new();
        LineChoice line = new();
        ProbeCommand command = new("report", "The hand-over report: one HTML page with the answer first, for a crew that has not seen this tool.")
        {
            Examples =
            [
                ("dmxprobe report tonight --patch patch.csv -o report.html", "a recording against its sheet"),
                ("dmxprobe report tonight.pcapng gateway.vcd --patch patch.csv --unit LX1-6 --trace lx1-6.csv --connected \"mirror port of the switch at the desk\" -o report.html", "with a line of a gateway and a unit that was located"),
            ],
            ExitCodes =
            [
                (ExitCode.Clean, "written; no fault found"), (ExitCode.FaultsFound, "written; at least one fault is in it"), (ExitCode.CouldNotRun, "could not run; no half file is left"),
            ],
            Notes = ["The page asks the network for nothing and works from a USB stick. It holds no time of making: the same inputs and options give the same page, octet for octet.", "Live inputs are recorded first: dmxprobe record."],
        };
        command.Add(inputs);
        foreach (Option option in new Option[] { output, sheet, units, trace, map, title, place, by, connected, workarounds, untested })
        {
            command.Add(option);
        }

        sheets.AddTo(command);
        line.AddTo(command);
        foreach (Option option in common.OfLines)
        {
            command.Add(option);
        }

        command.SetAction(parsed =>
        {
            string[] words = parsed.GetRequiredValue(inputs);
            ReportRun run = new(host)
            {
                Inputs = words,
                File = parsed.GetRequiredValue(output),
                Sheet = parsed.GetValue(sheet) is string path ? sheets.Open(parsed, path) : null,
                Units = parsed.GetValue(units) ?? [],
                Trace = parsed.GetValue(trace),
                Map = parsed.GetValue(map),
                Title = parsed.GetValue(title),
                Place = parsed.GetValue(place) ?? "",
                By = parsed.GetValue(by) ?? "",
                Connected = parsed.GetValue(connected) ?? [],
                Workarounds = parsed.GetValue(workarounds) ?? [],
                NotTested = parsed.GetValue(untested) ?? [],
                Files = common.Lines(parsed),
                Line = line.Of(parsed, common.Lines(parsed)),
                Zone = common.Zone(parsed, host),
                Command = CommandWords.WithoutPage(parsed, parsed.GetRequiredValue(output)),
            };
            (bool isFaulty, long octets, IReadOnlyList<string> cut) = run.Run();
            if (parsed.GetValue(common.Json))
            {
                JsonOutput.Write(host, stream => ReportJson.Write(stream, run.File, octets, isFaulty, cut));
            }
            else
            {
                TextPage page = common.Page(parsed, host);
                page.Paragraph($"{run.File}: written, {Figures.Count(octets)} octets; {(isFaulty ? "there are open faults in it" : "no fault is in it")}.");
                foreach (string early in cut)
                {
                    page.Paragraph($"The input ended early, so the page is about what there was: {early}");
                }

                page.WriteTo(host.Output);
            }

            return isFaulty ? ExitCode.FaultsFound : ExitCode.Clean;
        });
        return command;
    }
}
