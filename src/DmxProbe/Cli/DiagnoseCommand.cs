using System.CommandLine;

using DmxProbe.Cli.Text;
using DmxProbe.Protocols.CaptureFiles;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Json;

namespace DmxProbe.Cli;

/// <summary><c>diagnose INPUT..</c>: what is wrong, how sure, on which evidence, and what to do next.</summary>
internal static class DiagnoseCommand
{
    /// <summary>Builds the command.</summary>
    public static Command Create(CommonOptions common, ProgramHost host)
    {
        Argument<string[]> inputs = Inputs.Several();
        Option<string?> sheet = new("--patch") { HelpName = "SHEET", Description = "The patch sheet; without it only what needs none is judged." };
        Option<string[]> bad = new("--bad") { HelpName = "UNIT,UNIT", Description = "The units that do not do what they should, as the sheet names them.", AllowMultipleArgumentsPerToken = false };
        Option<string?> said = new("--said") { HelpName = "TEXT", Description = "What people say about it, in their words (\"one side is dark\"): what it makes likely goes first." };
        Option<string?> trace = new("--trace")
        {
            HelpName = "FILE",
            Description = "What the light of the one unit after --bad did, as for locate: then address, mode and own programme are judged too.",
        };
        Option<string?> map = SheetOptions.Map();
        SheetFlags sheets = new();
        ProbeCommand command = new("diagnose", "What is wrong: does the wire carry it, the causes in order with their evidence, what is excluded, what cannot be, and the cheapest next check.")
        {
            Examples =
            [
                ("dmxprobe diagnose tonight.pcapng --patch patch.csv --bad LX1-6", "why LX1-6 does not follow"),
                ("dmxprobe diagnose tonight.pcapng --patch patch.csv --bad LX1-6 --trace lx1-6.csv", "with what its light did: names a wrong address or mode"),
                ("dmxprobe diagnose tonight.pcapng line.vcd --patch patch.csv --bad LX2-1,LX2-2,LX2-3 --said \"they flicker\"", "network and line together, several units"),
                ("dmxprobe diagnose desk.pcapng gateway.pcapng --patch patch.csv", "two places of one moment, the sender's side first: what the way between loses, freezes or changes"),
                ("dmxprobe diagnose line.vcd --patch patch.csv --map 1=line:A --bad LX1-6", "a recording of the line that is universe 1 of the sheet"),
                ("dmxprobe diagnose tonight.pcapng --patch patch.csv", "nobody complains: is anything wrong?"),
            ],
            ExitCodes =
            [
                (ExitCode.Clean, "no fault found; what these inputs cannot exclude is listed"),
                (ExitCode.FaultsFound, "at least one cause of severity fault, or an input was not read to its end"),
                (ExitCode.CouldNotRun, "could not run"),
            ],
            Notes =
            [
                "Only listens. docs/causes.md lists every cause with its test, its thresholds and where they are from.",
                "Proven: the evidence cannot be had without it. Likely: it fits this and little else. Possible: something speaks for it, nothing against it.",
                "Not for life safety. Work on mains is for licensed people; local codes prevail.",
            ],
        };
        command.Add(inputs);
        foreach (Option option in new Option[] { sheet, bad, said, trace, map })
        {
            command.Add(option);
        }

        LineChoice line = new();
        LiveOptions live = new();
        live.AddTo(command);
        sheets.AddTo(command);
        line.AddTo(command);
        foreach (Option option in common.OfLines)
        {
            command.Add(option);
        }

        command.SetAction(parsed =>
        {
            TimeZoneInfo zone = common.Zone(parsed, host);
            string[] names = parsed.GetRequiredValue(inputs);
            bool isLive = names.Any(Inputs.IsLive);
            SheetInUse? inUse = parsed.GetValue(sheet) is string path ? sheets.Open(parsed, path) : null;
            DiagnoseAsked asked = DiagnoseAsked.Of(parsed.GetValue(bad) ?? [], parsed.GetValue(said), parsed.GetValue(map), inUse?.Patch);
            LineFileOptions files = common.Lines(parsed);
            string? light = parsed.GetValue(trace);
            if (light is not null)
            {
                CheckLight(asked, inUse, isLive || names.Contains("-"));
            }

            Analysis.Decoding.Line.LineOptions lines = line.Of(parsed, files);
            DiagnoseTaps taps = DiagnoseTaps.Hear(names, files, lines, host.Stop);
            LocateRun[] located = light is null ? [] : [Located(light, asked, inUse!, taps.Inputs, files, host)];
            using ICaptureSource source = Inputs.OpenMerged(taps.Inputs, live.Asked(parsed, host, inUse?.Patch.Universes), files);
            LineChoice.Check(source, lines);
            DiagnoseRun run = DiagnoseRun.Of(source, inUse, asked, located, taps.Taps, lines, isLive ? CancellationToken.None : host.Stop);
            if (parsed.GetValue(common.Json))
            {
                JsonOutput.Write(host, stream => DiagnoseJson.Write(stream, run.Case, run.Result));
            }
            else
            {
                TextPage page = common.Page(parsed, host);
                DiagnoseText.Write(page, run, inUse, parsed.GetValue(common.All), Clock(zone, run));
                page.WriteTo(host.Output);
            }

            return run.ExitCode;
        });
        return command;
    }

    private static WallClock Clock(TimeZoneInfo zone, DiagnoseRun run) => new(zone, run.Case.Survey.First, run.Case.Survey.Last);

    private static void CheckLight(DiagnoseAsked asked, SheetInUse? sheet, bool isReadOnce)
    {
        if (sheet is null || asked.Bad.Count != 1)
        {
            throw new UsageException(FormattableString.Invariant($"--trace is the light of one unit: expected --patch and one unit after --bad, found {(sheet is null ? "no sheet" : $"{asked.Bad.Count} units")}"));
        }

        if (isReadOnce)
        {
            throw new UsageException("--trace needs the capture twice, and a live input or standard input is read once only; record it first, then name the file");
        }
    }

    // Locating needs the whole history of the slots: a reading of its own, of the inputs that the case is made from.
    private static LocateRun Located(string trace, DiagnoseAsked asked, SheetInUse sheet, string[] names, LineFileOptions files, ProgramHost host)
    {
        using StreamReader light = TextFile.Open(trace);
        using ICaptureSource source = Inputs.OpenDated(names, live: null, files);
        return LocateRun.Of(source, sheet.Patch, sheet.Charts, new LocateAsked(asked.Bad[0], trace, Region: null, asked.Map, Mode: null), light, host.Stop);
    }
}
