using System.CommandLine;
using System.Net;

using DmxProbe.Analysis.Decoding.Line;
using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Survey;
using DmxProbe.Cli.Ask;
using DmxProbe.Cli.Metrics;
using DmxProbe.Protocols.CaptureFiles;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Metrics;
using DmxProbe.Tui;

namespace DmxProbe.Cli;

/// <summary><c>watch INPUT..</c>: the rig on the screen, live or from a recording at the pace at which it was made.</summary>
internal static class WatchCommand
{
    /// <summary>Builds the command.</summary>
    public static Command Create(CommonOptions common, ProgramHost host)
    {
        Argument<string[]> inputs = Inputs.Several();
        Option<string?> patch = new("--patch") { HelpName = "SHEET", Description = "The patch sheet: shows whose slots are where, and goes to a unit by its name." };
        Option<string?> map = SheetOptions.Map();
        Option<string?> log = AskOptions.ScreenLog();
        Option<bool> plain = new("--plain") { Description = "A line for each thing that happens instead of a screen: for screen readers and logs. A recording is then read at once, not played." };
        Option<string?> metrics = new("--metrics") { HelpName = "ADDRESS", Description = "With --plain: rates, losses and findings in OpenMetrics text at http://ADDRESS/metrics, for a monitoring system. A port (9600) answers this computer only; 192.0.2.5:9600 answers whoever reaches it." };
        ProbeCommand command = new("watch", "The rig on the screen while it runs: universes, the ones in trouble first, their slots unit by unit, and what is wrong.")
        {
            Examples =
            [
                ("dmxprobe watch net --join 1-4 --patch patch.csv", "what reaches this computer"),
                ("dmxprobe watch soundcheck.pcapng --patch patch.csv", "a recording, played as it was"),
                ("dmxprobe watch net --join heard --plain", "a line for each event"),
                ("dmxprobe watch net --join heard --plain --metrics 9600", "the same, and figures for a monitoring system on this computer"),
            ],
            ExitCodes = [(ExitCode.Clean, "no fault found"), (ExitCode.FaultsFound, "at least one fault found, or an input was not read to its end"), (ExitCode.CouldNotRun, "could not run")],
            Notes =
            [
                "Keys: R rig, U slots of the chosen universe, T timing, F findings, G go to a unit by typing its name, N and P the units beside it, S the next sender, D on a unit asks what a light that does not follow is really reading, C the function check, Up and Down, Enter, Esc back, Q or Ctrl-C ends. A mouse works too.",
                "Only listens. A terminal below 80 columns or 8 rows shows the answer in one sentence.",
            ],
        };
        LineChoice line = new();
        LiveOptions live = new();
        SheetFlags sheets = new();
        command.Add(inputs);
        command.Add(patch);
        command.Add(map);
        command.Add(log);
        command.Add(plain);
        command.Add(metrics);
        live.AddTo(command);
        sheets.AddTo(command);
        line.AddTo(command);
        foreach (Option option in common.OfLines)
        {
            command.Add(option);
        }

        command.SetAction(parsed =>
        {
            if (parsed.GetValue(common.Json))
            {
                throw new UsageException("watch shows what happens and has no JSON; for JSON use survey --json, for a line an event watch --plain");
            }

            bool lines = parsed.GetValue(plain);
            if (!lines && parsed.GetValue(metrics) is not null)
            {
                throw new UsageException("--metrics goes with --plain: a monitoring system needs a program that runs without a terminal");
            }

            if (!lines && (host.ReadKey is null || Console.IsOutputRedirected))
            {
                throw new UsageException("watch needs a terminal to draw on and a keyboard; without them use watch --plain");
            }

            string? sheet = parsed.GetValue(patch);
            if (sheet is null && parsed.GetValue(map) is not null)
            {
                throw new UsageException("--map says which universe of the sheet is which, and no sheet is given; add --patch SHEET");
            }

            AskLog? kept = AskOptions.Kept(parsed.GetValue(log), sheet, host);
            SheetInUse? inUse = sheet is null ? null : sheets.Open(parsed, sheet);
            ScreenSheet screenSheet = new(inUse, parsed.GetValue(map));
            using CancellationTokenSource stop = CancellationTokenSource.CreateLinkedTokenSource(host.Stop);
            using StringWriter said = new() { NewLine = "\n" };
            using ScreenWish wish = new();

            // What a live input has to say must not be written across the screen: it is said at the end.
            ProgramHost listening = host with { Stop = stop.Token, Error = lines ? host.Error : said };
            LiveAsked asked = live.Asked(parsed, listening, inUse?.Patch.Universes);
            string[] names = parsed.GetRequiredValue(inputs);
            WatchedWire? wire = names.Any(Inputs.IsLive) ? new WatchedWire() : null;
            SurveySnapshot? known = null;
            using MetricsServer? server = Serve(parsed.GetValue(metrics), () => MetricsPage.Of(Volatile.Read(ref known)), host);
            RigPicture? last = Run(names, asked, common.Lines(parsed), line.Of(parsed, common.Lines(parsed)), (source, about) => new SnapshotSource(source, about, screenSheet, wish, wire), source => lines
                ? Print(source, new PlainStream(host.Output, common.Zone(parsed, host)), picture => Volatile.Write(ref known, picture.Survey), stop.Token)
                : ScreenRun.Show(source, new Screen(screenSheet, common.Zone(parsed, host), wish, null, new ScreenGuides(inUse, kept, common.Zone(parsed, host), host.Clock, ScreenGuides.Apart, wire) { IsRecording = wire is null }) { Reads = wire is null ? string.Join(", ", names) : "" }, host.Color && !parsed.GetValue(common.NoColor), stop), lines, stop.Token);
            host.Error.Write(said.ToString());
            host.Error.Flush();
            return last?.Survey.Findings.Any(finding => finding.Severity == Severity.Fault) == true || last?.Survey.IsCut == true ? ExitCode.FaultsFound : ExitCode.Clean;
        });
        return command;
    }

    /// <summary>Runs the analyzers over inputs and shows what they say.</summary>
    internal static RigPicture? Run(
        string[] names, LiveAsked live, LineFileOptions files, LineOptions line, Func<ICaptureSource, LineOptions, SnapshotSource> run, Func<SnapshotSource, RigPicture?> show, bool atOnce, CancellationToken stop)
    {
        ICaptureSource opened = Inputs.OpenMerged(names, live, files);
        using ICaptureSource source = atOnce || names.Any(Inputs.IsLive) ? opened : new PlayedSource(opened, live.Host.Clock, stop);
        LineChoice.Check(opened, line);
        RigPicture? last = show(run(source, line));
        if (last?.At == Timestamp.MinValue && !names.Any(Inputs.IsLive) && !stop.IsCancellationRequested)
        {
            throw new UsageException(source.Problem is InputProblem cut
                ? $"{source.Name}: {cut}"
                : $"{string.Join(", ", names)}: no record is in it, so there is nothing to watch; check that the capture ran, and where");
        }

        return last;
    }

    private static MetricsServer? Serve(string? address, Func<string> page, ProgramHost host)
    {
        if (address is null)
        {
            return null;
        }

        IPEndPoint where = MetricsServer.Parse(address);
        if (MetricsServer.Warning(where) is string warning)
        {
            host.Error.WriteLine("dmxprobe: " + warning + ".");
            host.Error.Flush();
        }

        return new MetricsServer(where, page);
    }

    private static RigPicture? Print(SnapshotSource source, PlainStream lines, Action<RigPicture> take, CancellationToken stop)
    {
        RigPicture? last = null;
        source.Run(
            picture =>
            {
                last = picture;
                take(picture);
                if (picture.At > Timestamp.MinValue)
                {
                    lines.Tell(picture);
                }
            },
            stop);
        return last;
    }
}
