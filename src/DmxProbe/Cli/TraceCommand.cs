using System.CommandLine;
using System.Globalization;

using DmxProbe.Analysis.Video;
using DmxProbe.Cli.Text;
using DmxProbe.Cli.Video;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Json;

namespace DmxProbe.Cli;

/// <summary><c>trace from-video FILE</c>: the light of a place in a video, as a trace that <c>locate</c> reads.</summary>
internal static class TraceCommand
{
    private const int MostRegions = 9;

    /// <summary>Builds the command.</summary>
    public static Command Create(CommonOptions common, ProgramHost host)
    {
        ProbeCommand trace = new("trace", "Measured light over time, for 'locate'.");
        trace.Add(FromVideo(common, host));
        return trace;
    }

    private static ProbeCommand FromVideo(CommonOptions common, ProgramHost host)
    {
        Argument<string> video = new("FILE") { Description = "The video, as the phone or camera made it.", Arity = ArgumentArity.ExactlyOne };
        Option<string[]> region = new("--region") { HelpName = "x,y,w,h", Description = "Where the light is: pixels of the picture as shown, from its top left; may be given several times. Without it the places that change most are taken." };
        Option<string?> start = new("--start") { HelpName = "TIME", Description = "When the first picture was taken, ISO 8601; by itself the time in the file, which is the camera's own." };
        Option<string?> output = new("--output", "-o") { HelpName = "CSV", Description = "The trace; by itself the video's name with .trace.csv in the current folder. The picture goes beside it as .png." };
        Option<bool> force = new("--force") { Description = "Write over files that are there." };
        ProbeCommand command = new("from-video", "A trace of the light in a video: true picture times, linear light above the surroundings, clipped pictures left out, exposure drift divided out. Needs ffmpeg.")
        {
            Examples =
            [
                ("dmxprobe trace from-video lx1-6.mp4", "finds what changes most; lx1-6.trace.csv, and lx1-6.trace.png to check the places"),
                ("dmxprobe trace from-video lx1-6.mp4 --region 820,300,120,120 -o lx1-6.csv", "one place, one trace"),
                ("dmxprobe locate tonight.pcapng --patch patch.csv --unit LX1-6 --trace lx1-6.trace.csv --region 1", "which address that light reads"),
            ],
            ExitCodes = [(ExitCode.Clean, "a trace was made"), (ExitCode.CouldNotRun, "could not run")],
            Notes =
            [
                "Fix the phone, lock focus and exposure, set 1/50 s (50 Hz mains) or 1/60 s, and film 60 s of the light or the spot it throws, dark enough that nothing is white at its edge.",
                $"ffmpeg is looked for by its name; the variable {VideoTool.FolderVariable} names its folder where that does not find it.",
            ],
        };
        command.Add(video);
        foreach (Option option in new Option[] { region, start, output, force })
        {
            command.Add(option);
        }

        command.SetAction(parsed =>
        {
            string path = parsed.GetRequiredValue(video);
            string csv = parsed.GetValue(output) ?? Path.GetFileNameWithoutExtension(path) + ".trace.csv";
            string png = Path.ChangeExtension(csv, ".png");
            bool over = parsed.GetValue(force);
            foreach (string file in new[] { csv, png })
            {
                if (!over && File.Exists(file))
                {
                    throw TraceRun.Exists(file);
                }
            }

            if (Path.GetFullPath(csv) == Path.GetFullPath(path) || Path.GetFullPath(png) == Path.GetFullPath(path) || png == csv)
            {
                throw new UsageException($"--output: expected a name for the trace that is neither the video's nor ends in .png, found '{csv}'; the picture is written beside it as .png");
            }

            TraceRun run = TraceRun.Of(
                new TraceAsked(path, Regions(parsed.GetValue(region) ?? []), StartOf(parsed.GetValue(start)), csv, png, over), host.Stop);
            if (parsed.GetValue(common.Json))
            {
                JsonOutput.Write(host, stream => TraceJson.Write(stream, run.Trace, run.Start, run.Output, run.Picture, run.Warnings));
            }
            else
            {
                TextPage page = common.Page(parsed, host);
                TraceText.Write(page, run);
                page.WriteTo(host.Output);
            }

            return ExitCode.Clean;
        });
        return command;
    }

    private static List<PictureRegion> Regions(string[] words)
    {
        if (words.Length > MostRegions)
        {
            throw new UsageException(string.Create(CultureInfo.InvariantCulture, $"--region: expected at most {MostRegions} regions, found {words.Length}; measure the others in a second run"));
        }

        List<PictureRegion> regions = [];
        foreach (string word in words)
        {
            regions.Add(PictureRegion.TryParse(word, out PictureRegion region)
                ? region
                : throw new UsageException($"--region: expected x,y,w,h in whole pixels, such as 820,300,120,120, found '{word}'; w and h are at least 1"));
        }

        return regions;
    }

    private static Timestamp? StartOf(string? text) =>
        text is null ? null
        : DateTimeOffset.TryParse(text, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal | DateTimeStyles.AdjustToUniversal, out DateTimeOffset moment) && moment.Year is >= 1970 and <= 2261
            ? Timestamp.FromUnixNanoseconds((moment - DateTimeOffset.UnixEpoch).Ticks * 100)
            : throw new UsageException($"--start: expected a time such as 2026-03-14T19:41:07.5Z, found '{text}'; a time without a zone is taken as UTC");
}
