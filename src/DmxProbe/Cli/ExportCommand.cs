using System.CommandLine;
using System.Globalization;

using DmxProbe.Cli.Text;
using DmxProbe.Reporting.Json;

namespace DmxProbe.Cli;

/// <summary><c>export INPUT.. --what TABLE -o FILE</c>: the numbers for a spreadsheet or a program.</summary>
internal static class ExportCommand
{
    /// <summary>Builds the command.</summary>
    public static Command Create(CommonOptions common, ProgramHost host)
    {
        Argument<string[]> inputs = Inputs.Several();
        Option<string> what = new("--what")
        {
            HelpName = "TABLE",
            Description = "What to write: frames (each as it arrived), changes (of levels, slot by slot), measurements (the figures of timing), findings (of survey), sheet (as found by walk; needs --patch), everything (JSON only).",
            Required = true,
        };
        what.AcceptOnlyFromAmong([.. ExportRun.Tables]);
        Option<string> output = new("--output", "-o") { HelpName = "FILE", Description = "The file to write; it must not exist. Its ending says the form: .csv, .parquet or .json.", Required = true };
        Option<string?> form = new("--form") { HelpName = "csv|parquet|json", Description = "The form, where the ending of the file does not say it." };
        form.AcceptOnlyFromAmong([.. ExportRun.Forms]);
        Option<string?> sheet = new("--patch") { HelpName = "SHEET", Description = "The patch sheet: changes then name the unit and function of each slot." };
        Option<string?> map = SheetOptions.Map();
        LiveOptions live = new();
        SheetFlags sheets = new();
        LineChoice line = new();
        ProbeCommand command = new("export", "The numbers as CSV, Parquet or JSON, for a spreadsheet or another program.")
        {
            Examples =
            [
                ("dmxprobe export tonight --what changes --patch patch.csv -o changes.csv", "every change of level, with unit and function"),
                ("dmxprobe export tonight.pcapng --what frames -o frames.parquet", "every frame"),
                ("dmxprobe export gateway.vcd --what measurements -o gateway.csv", "the figures of a line, their limits and verdicts"),
            ],
            ExitCodes = [(ExitCode.Clean, "written"), (ExitCode.FaultsFound, "written, but an input was not read to its end"), (ExitCode.CouldNotRun, "could not run; no half file is left")],
            Notes = ["docs/export.md lists the columns with their units. Findings do not change the exit code here; survey and timing do that."],
        };
        command.Add(inputs);
        foreach (Option option in new Option[] { what, output, form, sheet, map })
        {
            command.Add(option);
        }

        sheets.AddTo(command);
        live.AddTo(command);
        line.AddTo(command);
        foreach (Option option in common.OfLines)
        {
            command.Add(option);
        }

        command.SetAction(parsed =>
        {
            SheetInUse? inUse = parsed.GetValue(sheet) is string path ? sheets.Open(parsed, path) : null;
            string file = parsed.GetRequiredValue(output);
            ExportRun run = new(host)
            {
                Inputs = parsed.GetRequiredValue(inputs),
                What = parsed.GetRequiredValue(what),
                File = file,
                Form = parsed.GetValue(form) ?? ExportRun.FormOf(file),
                Sheet = inUse,
                Map = parsed.GetValue(map),
                Live = live.Asked(parsed, host, inUse?.Patch.Universes),
                Files = common.Lines(parsed),
                Line = line.Of(parsed, common.Lines(parsed)),
            };
            ExportResult result = run.Run();
            if (parsed.GetValue(common.Json))
            {
                JsonOutput.Write(host, stream => ExportJson.Write(stream, result.Table, result.Form, result.File, result.Rows, result.Octets, result.Cut));
            }
            else
            {
                TextPage page = common.Page(parsed, host);
                page.Paragraph(string.Create(CultureInfo.InvariantCulture, $"{result.File}: {result.Rows:N0} {(result.Rows == 1 ? "row" : "rows")} of {result.Table}, {result.Octets:N0} octets."));
                foreach (string cut in result.Cut)
                {
                    page.Paragraph($"The input ended early, so this is what there was: {cut}");
                }

                page.WriteTo(host.Output);
            }

            return result.Cut.Count > 0 ? ExitCode.FaultsFound : ExitCode.Clean;
        });
        return command;
    }
}
