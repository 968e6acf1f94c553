using System.CommandLine;

using DmxProbe.Cli.Text;
using DmxProbe.Reporting.Json;

namespace DmxProbe.Cli;

/// <summary><c>record pack DIR</c>: a recording into an archive of shows that is asked as one table.</summary>
internal static class PackCommand
{
    private const int LongestName = 200;

    /// <summary>Builds the command.</summary>
    public static Command Create(CommonOptions common, ProgramHost host)
    {
        Argument<string> recording = new("RECORDING") { Description = "The folder that was recorded into, or a capture file." };
        Option<string> archive = new("--output", "-o") { HelpName = "ARCHIVE", Description = "Folder of the archive; made where there is none. One archive takes any number of shows.", Required = true };
        Option<string> show = new("--show") { HelpName = "NAME", Description = "Name of the show.", Required = true };
        Option<string> venue = new("--venue") { HelpName = "NAME", Description = "Name of the venue.", DefaultValueFactory = _ => "" };
        Option<string?> sheet = new("--patch") { HelpName = "SHEET", Description = "The patch sheet: its units go into the archive, so that questions can name them." };
        Option<string?> map = SheetOptions.Map();
        SheetFlags sheets = new();
        ProbeCommand command = new("pack", "Pack a recording into an archive of Parquet tables, in which seasons of shows are asked as one table.")
        {
            Examples =
            [
                ("dmxprobe record pack tonight -o archive --show \"The Glass Orchard\" --venue \"Harbour Hall\"", "levels, times of frames and findings"),
                ("dmxprobe record pack tonight -o archive --show Orchard --patch patch.csv", "with the units of the sheet"),
            ],
            ExitCodes =
            [
                (ExitCode.Clean, "packed"),
                (ExitCode.FaultsFound, "packed what is whole of a recording that is cut or damaged"),
                (ExitCode.CouldNotRun, "could not run"),
            ],
            Notes =
            [
                "Every level of every frame is kept, and its time to the microsecond. What is no level (other START codes, polls, RDM, line edges) stays in the recording: keep that as evidence.",
                "The same recording packed again replaces its own files. docs/archive.md has the tables and questions to ask them.",
            ],
        };
        command.Add(recording);
        foreach (Option option in new Option[] { archive, show, venue, sheet, map })
        {
            command.Add(option);
        }

        sheets.AddTo(command);
        command.SetAction(parsed =>
        {
            string input = parsed.GetRequiredValue(recording);
            if (input == "-" || Inputs.IsLive(input))
            {
                throw new UsageException($"'{input}' is no recording; record it first, then name the folder");
            }

            SheetInUse? inUse = parsed.GetValue(sheet) is string path ? sheets.Open(parsed, path) : null;
            if (inUse is null && parsed.GetValue(map) is not null)
            {
                throw new UsageException("--map says which universe of the wire each universe of a sheet is, and no sheet is given; add --patch");
            }

            PackResult packed = PackRun.Run(
                input, parsed.GetRequiredValue(archive), Name(parsed.GetRequiredValue(show), "--show"), Name(parsed.GetValue(venue)!, "--venue"), inUse, parsed.GetValue(map), host);
            if (parsed.GetValue(common.Json))
            {
                JsonOutput.Write(host, stream => PackJson.Write(stream, packed));
            }
            else
            {
                TextPage page = common.Page(parsed, host);
                page.Paragraph($"Packed {Figures.Count(packed.Frames, "frame")} with {Figures.Count(packed.Values, "level")} into {Figures.Count(packed.Files, "file")}, {Figures.Count(packed.Octets)} octets{(packed.RecordingOctets > 0 && packed.Octets > 0 ? $": 1/{Figures.Number((double)packed.RecordingOctets / packed.Octets)} of the recording" : "")}.", tone: Tone.Strong);
                page.Paragraph($"in {packed.Archive}, show_key={packed.Folder}");
                foreach (string note in packed.Notes)
                {
                    page.Paragraph(note);
                }

                page.WriteTo(host.Output);
            }

            return packed.IsCut ? ExitCode.FaultsFound : ExitCode.Clean;
        });
        return command;
    }

    private static string Name(string name, string option) =>
        name.Length > LongestName ? throw new UsageException($"{option}: expected a name of at most {LongestName} characters, found {name.Length}")
        : name.Any(char.IsControl) ? throw new UsageException($"{option}: a name holds no control characters; found one in '{name}'")
        : option == "--show" && string.IsNullOrWhiteSpace(name) ? throw new UsageException("--show: expected the name of the show, found nothing but spaces")
        : name.Trim();
}
