using System.CommandLine;

using DmxProbe.Cli.Text;
using DmxProbe.Reporting.Json;

namespace DmxProbe.Cli;

/// <summary><c>report INPUT.. -o FILE.html</c>: the hand-over report.</summary>
internal static class ReportCommand
{
    private const string Auto = "auto";
    private const string OneClock = "one-clock";
    private const string TwoClocks = "two-clocks";

    /// <summary>Builds the command.</summary>
    public static Command Create(CommonOptions common, ProgramHost host)
    {
        Argument<string[]> inputs = Inputs.Several();
        Option<string> output = new("--output", "-o") { HelpName = "FILE", Description = "The page to write, one HTML file; it must not exist.", Required = true };
        Option<string?> sheet = new("--patch") { HelpName = "SHEET", Description = "The patch sheet." };
        Option<string[]> units = new("--unit") { HelpName = "UNIT", Description = "A unit whose slots are to be drawn over time; may be repeated; needs --patch.", AllowMultipleArgumentsPerToken = false };
        Option<string?> trace = new("--trace") { HelpName = "FILE", Description = "The measured light of the one unit given: the report then says which address it reads, and shows why." };
        Option<string?> map = SheetOptions.Map();
        Option<string[]> bad = new("--bad") { HelpName = "UNIT,UNIT", Description = "Units that do not do what they should, as the sheet names them: the report then says why (as diagnose does); needs --patch.", AllowMultipleArgumentsPerToken = false };
        Option<string?> said = new("--said") { HelpName = "TEXT", Description = "What people say about it, in their words." };
        Option<string> clocks = new("--clocks") { HelpName = "CLOCKS", Description = "Inputs that are two taps of one moment are put side by side; whether they have one clock: one-clock, two-clocks; auto decides by the offset found.", DefaultValueFactory = _ => Auto };
        clocks.AcceptOnlyFromAmong(Auto, OneClock, TwoClocks);
        Option<string[]> workarounds = new("--workaround") { HelpName = "TEXT", Description = "A work-around in force; may be repeated.", AllowMultipleArgumentsPerToken = false };
        RecordHead head = new();
        SheetFlags sheets = new();
        LineChoice line = new();
        ProbeCommand command = new("report", "The hand-over report: one HTML page with the answer first, for a crew that has not seen this tool.")
        {
            Examples =
            [
                ("dmxprobe report tonight --patch patch.csv -o report.html", "a recording against its sheet"),
                ("dmxprobe report tonight.pcapng --patch patch.csv --bad LX1-6 -o report.html", "with why LX1-6 does not follow"),
                ("dmxprobe report desk.pcapng receiver.pcapng -o report.html", "two taps of one moment side by side"),
                ("dmxprobe report tonight.pcapng gateway.vcd --patch patch.csv --unit LX1-6 --trace lx1-6.csv --connected \"mirror port of the switch at the desk\" -o report.html", "with a line of a gateway and a unit that was located"),
            ],
            ExitCodes =
            [
                (ExitCode.Clean, "written; no fault found"), (ExitCode.FaultsFound, "written; at least one fault is in it, or an input was not read to its end"), (ExitCode.CouldNotRun, "could not run; no half file is left"),
            ],
            Notes = ["The page asks the network for nothing and works from a USB stick. It holds no time of making: the same inputs and options give the same page, octet for octet.", "Live inputs are recorded first: dmxprobe record."],
        };
        command.Add(inputs);
        foreach (Option option in new Option[] { output, sheet, units, trace, map, bad, said, clocks, workarounds }.Concat(head.InOrder))
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
                Bad = parsed.GetValue(bad) ?? [],
                Said = parsed.GetValue(said),
                IsOneClock = parsed.GetRequiredValue(clocks) switch { OneClock => true, TwoClocks => false, _ => null },
                Title = head.Title(parsed),
                Place = head.Place(parsed),
                By = head.By(parsed),
                Connected = head.Connected(parsed),
                Workarounds = parsed.GetValue(workarounds) ?? [],
                NotTested = head.NotTested(parsed),
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
                page.Paragraph($"{run.File}: written, {Figures.Count(octets)} octets; {(isFaulty ? "there are open faults in it" : cut.Count == 0 ? "no fault is in it" : "an input ends early, and no fault is in what was read")}.");
                foreach (string early in cut)
                {
                    page.Paragraph($"The input ended early, so the page is about what there was: {early}");
                }

                page.WriteTo(host.Output);
            }

            return isFaulty || cut.Count > 0 ? ExitCode.FaultsFound : ExitCode.Clean;
        });
        return command;
    }
}
