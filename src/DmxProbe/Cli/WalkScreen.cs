using System.CommandLine;

using DmxProbe.Analysis.Decoding.Line;
using DmxProbe.Analysis.Walk;
using DmxProbe.Cli.Ask;
using DmxProbe.Cli.Text;
using DmxProbe.Protocols.CaptureFiles;
using DmxProbe.Tui;

namespace DmxProbe.Cli;

/// <summary><c>walk --screen</c>: the function check on the screen, and its answer when the person leaves.</summary>
internal static class WalkScreen
{
    /// <summary>Shows it until the person leaves, then tells what was moved.</summary>
    public static int Show(
        ParseResult parsed, string[] names, CommonOptions common, ProgramHost host, LiveOptions live, SheetInUse inUse, string? map, string? notes, string? asFound)
    {
        if (parsed.GetValue(common.Json) || host.ReadKey is null || Console.IsOutputRedirected)
        {
            throw new UsageException("--screen needs a terminal and somebody at its keys; without them leave it out");
        }

        string? found = WalkCommand.Free(asFound);
        AskLog? log = notes is null ? null : new AskLog(notes, host.Clock);
        TimeZoneInfo zone = common.Zone(parsed, host);
        ScreenSheet sheet = new(inUse, map);
        bool isRecording = !names.Any(Inputs.IsLive);
        ScreenGuides guides = new(inUse, log, zone, host.Clock, ScreenGuides.Apart) { IsRecording = isRecording };
        using CancellationTokenSource stop = CancellationTokenSource.CreateLinkedTokenSource(host.Stop);
        using StringWriter said = new() { NewLine = "\n" };
        using ScreenWish wish = new();
        wish.Set(null, null, walks: true);
        Screen screen = new(sheet, zone, wish, null, guides) { Reads = isRecording ? string.Join(", ", names) : "" };
        screen.State.View = ScreenView.Walk;
        RigPicture? last = WatchCommand.Run(
            names, live.Asked(parsed, host with { Stop = stop.Token, Error = said }, inUse.Patch.Universes), LineFileOptions.None, LineOptions.Found,
            (source, about) => new SnapshotSource(source, about, sheet, wish), source => ScreenRun.Show(source, screen, host.Color && !parsed.GetValue(common.NoColor), stop), atOnce: false, stop.Token);
        host.Error.Write(said.ToString());
        host.Error.Flush();
        if (last is not { Walk: WalkResult walk, Map: UniverseMap known })
        {
            throw new UsageException("no Art-Net or sACN levels were heard, so nothing can be ticked off; listen where the lighting network passes");
        }

        WalkRun run = new(walk, WalkReview.Remarks(walk, guides.Walk?.Notes ?? []), WalkReview.Order(walk), known, last.Survey) { Notes = guides.Walk?.Notes ?? [] };
        WalkCommand.WriteAsFound(run, found);
        TextPage page = common.Page(parsed, host);
        WalkText.Write(page, run, inUse, parsed.GetValue(common.All), found, new WallClock(zone, last.Survey.First, last.Survey.Last));
        page.WriteTo(host.Output);
        return run.ExitCode;
    }
}
