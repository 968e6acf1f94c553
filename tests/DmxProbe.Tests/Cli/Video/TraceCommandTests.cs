using System.Globalization;
using System.Text.Json;

using DmxProbe.Testing.HarbourHall;

namespace DmxProbe.Tests.Cli.Video;

/// <summary><c>trace from-video</c> on rendered clips of known truth through the real ffmpeg, and on files that are none.</summary>
public sealed class TraceCommandTests : IDisposable
{
    private const string Hall = "captures/harbour-hall/";
    private const string RawPictures = "-f rawvideo -pix_fmt rgb24 -s 192x108 -r 30 -i -";
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("dmxprobe-video-");

    public void Dispose() => _folder.Delete(recursive: true);

    [SkippableFact]
    public void A_rendered_clip_of_Harbour_Hall_becomes_a_trace_that_finds_1_016()
    {
        Skip.IfNot(RenderedClip.HasFfmpeg, RenderedClip.NotInstalled);
        HarbourVideo clip = Clip();
        string video = Rendered(clip, "hall.mp4", "-metadata creation_time=" + clip.Start);

        ProgramRun run = Trace(video, "-o", At("hall.csv"), "--start", clip.Start.ToString());

        Assert.Equal("", run.Error);
        Assert.Equal(0, run.Code);
        Assert.Contains("sees 100 Hz (50 Hz mains) as 10.00 Hz and 120 Hz (60 Hz mains) as 0.00 Hz", Joined(run.Output), StringComparison.Ordinal);
        Assert.Contains("2 regions", run.Output, StringComparison.Ordinal);
        Assert.True(File.Exists(At("hall.png")));
        ProgramRun located = Locate("hall.csv", RegionOver("hall", video, HarbourVideo.Light));
        Assert.Equal("", located.Error);
        Assert.StartsWith("LX1-6 reads 1.016, not 1.061 as the sheet says: digits swapped.\n", located.Output, StringComparison.Ordinal);
    }

    [SkippableFact]
    public void Two_lights_of_one_clip_are_located_at_once_though_its_clock_is_unknown()
    {
        Skip.IfNot(RenderedClip.HasFfmpeg, RenderedClip.NotInstalled);
        string video = Rendered(Clip(), "wide.mp4", "");
        Assert.Equal(0, Trace(video, "-o", At("wide.csv")).Code);

        ProgramRun located = Units(At("wide.csv"), "LX1-6=1,LX1-5=2");

        Assert.Equal("", located.Error);
        Assert.Equal(1, located.Code);
        Assert.StartsWith("2 units: 1 as the sheet says, 1 elsewhere, 0 open.\n", located.Output, StringComparison.Ordinal);
        Assert.Contains("LX1-6 reads 1.016, not 1.061 as the sheet says: digits swapped.", located.Output, StringComparison.Ordinal);
        JsonElement page = JsonDocument.Parse(Units(At("wide.csv"), "LX1-6=1,LX1-5=2", "--json").Output).RootElement;
        Assert.InRange(page.GetProperty("clockShiftSeconds").GetDouble(), 1.5, 2.5);
    }

    [Theory]
    [InlineData("LX1-6", "no region 'LX1-6'")]
    [InlineData("LX1-6=9", "no region '9'")]
    [InlineData("nope=1", "no unit 'nope'")]
    [InlineData("LX1-6=1,LX1-6=2", "named twice")]
    [InlineData("LX1-6=1,LX1-5=1", "region '1' is given to 'LX1-6' and 'LX1-5'")]
    [InlineData("all", "no region bears the name of a unit")]
    [InlineData(",", "no region bears the name of a unit")]
    public void A_list_of_units_that_cannot_be_is_refused(string list, string why)
    {
        File.WriteAllText(At("two.csv"), "time,region,level\n0,1,0\n0,2,0\n1,1,1\n1,2,1\n");
        Assert.Contains(why, Units(At("two.csv"), list).Refusal(), StringComparison.Ordinal);
    }

    [Fact]
    public void Several_units_need_a_trace_with_regions() =>
        Assert.Contains("needs a trace with a region column", Units(Hall + "lx1-6-trace.csv", "LX1-6").Refusal(), StringComparison.Ordinal);

    [Fact]
    public void One_unit_and_several_do_not_go_together() =>
        Assert.Contains("--units and --unit do not go together", Units(Hall + "lx1-6-trace.csv", "LX1-6", "--unit", "LX1-6").Refusal(), StringComparison.Ordinal);

    [SkippableTheory]
    [InlineData("a b';touch x;.mp4", "a b';touch x;.mp4")]
    [InlineData("$(touch x).mp4", "$(touch x).mp4")]
    [InlineData("%d.mp4", "%d.mp4")]
    [InlineData("concat:a|b.mp4", "concat:a|b.mp4")]
    [InlineData("e\u001B[31mvil\n.mp4", "e\\u001B[31mvil\\u000A.mp4")]
    public void A_hostile_file_name_is_a_name_and_nothing_else(string name, string shown)
    {
        Skip.IfNot(RenderedClip.HasFfmpeg, RenderedClip.NotInstalled);
        Skip.If(OperatingSystem.IsWindows(), "such names cannot be made on this system");
        string video = Rendered(Clip(count: 60), "plain.mp4", "");
        File.Copy(video, At(name));
        ProgramRun run = Trace(At(name), "--region", "44,42,16,16", "-o", At("named.csv"));
        Assert.Equal("", run.Error);
        Assert.Equal(0, run.Code);
        File.WriteAllBytes(At(name), [1, 2, 3]);
        string refusal = Trace(At(name), "-o", At("other.csv")).Refusal();
        Assert.StartsWith(At("") + Path.DirectorySeparatorChar + shown + ": ffmpeg finds no video in this file", refusal, StringComparison.Ordinal);
        Assert.DoesNotContain('\u001B', refusal);
        Assert.False(File.Exists("x"));
    }

    [SkippableFact]
    public void The_picture_shows_the_region_in_a_frame()
    {
        Skip.IfNot(RenderedClip.HasFfmpeg, RenderedClip.NotInstalled);
        string video = Rendered(Clip(count: 300), "framed.mp4", "");
        Assert.Equal(0, Trace(video, "--region", "44,42,16,16", "-o", At("framed.csv")).Code);

        // Decoded by ffmpeg, not by our own code: the same picture but for a frame around 44,42 to 59,57.
        RenderedClip.Ffmpeg(null, "-i", At("framed.png"), "-f", "rawvideo", "-pix_fmt", "rgb24", At("framed.raw"));
        byte[] pixels = File.ReadAllBytes(At("framed.raw"));
        Assert.Equal(3 * HarbourVideo.Width * HarbourVideo.Height, pixels.Length);
        (byte, byte, byte) Pixel(int x, int y) => (pixels[3 * ((y * HarbourVideo.Width) + x)], pixels[(3 * ((y * HarbourVideo.Width) + x)) + 1], pixels[(3 * ((y * HarbourVideo.Width) + x)) + 2]);
        HashSet<(byte, byte, byte)> sides = [.. Enumerable.Range(46, 12).SelectMany(i => new[] { Pixel(i, 41), Pixel(i, 58), Pixel(43, i), Pixel(60, i) })];
        Assert.Single(sides);
        Assert.NotEqual(Pixel(52, 50), sides.Single());
        Assert.NotEqual(Pixel(150, 90), sides.Single());
    }

    [SkippableFact]
    public void Dropped_pictures_and_a_wandering_exposure_do_not_hide_it()
    {
        Skip.IfNot(RenderedClip.HasFfmpeg, RenderedClip.NotInstalled);
        HarbourVideo clip = Clip(drift: 0.2);
        string video = Rendered(clip, "rough.mp4", "-vf select=gt(random(1)\\,0.15) -fps_mode vfr");

        ProgramRun run = Trace(video, "--region", "40,38,24,24", "-o", At("rough.csv"), "--start", clip.Start.ToString(), "--json");

        Assert.Equal("", run.Error);
        JsonElement page = JsonDocument.Parse(run.Output).RootElement;
        Assert.True(page.GetProperty("exposureCorrected").GetBoolean());
        Assert.InRange(page.GetProperty("exposureDrift").GetDouble(), 0.25, 0.45);
        Assert.InRange(page.GetProperty("picturesPerSecond").GetDouble(), 29.9, 30.1);
        Assert.InRange(page.GetProperty("pictures").GetInt32(), 1300, 1550);
        ProgramRun located = Locate("rough.csv", null);
        Assert.StartsWith("LX1-6 reads 1.016, not 1.061 as the sheet says: digits swapped.\n", located.Output, StringComparison.Ordinal);
    }

    [SkippableFact]
    public void The_light_measured_is_the_light_rendered_whatever_the_tone_curve_and_exposure()
    {
        Skip.IfNot(RenderedClip.HasFfmpeg, RenderedClip.NotInstalled);
        SortedDictionary<string, double> likeness = [];
        foreach ((string name, double drift) in new[] { ("steady", 0.0), ("drifting", 0.2) })
        {
            HarbourVideo clip = Clip(drift);
            string video = Rendered(clip, name + ".mp4", "");
            Assert.Equal(0, Trace(video, "--region", "44,42,16,16", "-o", At(name + ".csv")).Code);
            likeness[name] = Likeness(At(name + ".csv"));
        }

        // 1 = the same up to gain and offset.
        Assert.InRange(likeness["steady"], 0.995, 1);
        Assert.InRange(likeness["drifting"], 0.98, 1);
    }

    [SkippableFact]
    public void Clipped_pictures_are_left_out_and_counted()
    {
        Skip.IfNot(RenderedClip.HasFfmpeg, RenderedClip.NotInstalled);
        HarbourVideo clip = Clip(brightness: 2);
        string video = Rendered(clip, "bright.mp4", "");
        ProgramRun run = Trace(video, "--region", "44,42,16,16", "-o", At("bright.csv"), "--json");
        Assert.Equal("", run.Error);
        JsonElement region = JsonDocument.Parse(run.Output).RootElement.GetProperty("regions")[0];
        Assert.InRange(region.GetProperty("clipped").GetInt32(), 50, clip.Count - 50);
        Assert.Equal(clip.Count, region.GetProperty("clipped").GetInt32() + region.GetProperty("readings").GetInt32());
    }

    [SkippableFact]
    public void Files_that_are_no_video_are_refused_with_one_sentence()
    {
        Skip.IfNot(RenderedClip.HasFfmpeg, RenderedClip.NotInstalled);
        string video = Rendered(Clip(count: 60), "whole.mp4", "");
        RenderedClip.Ffmpeg(null, "-f", "lavfi", "-i", "sine=d=1", At("sound.m4a"));
        File.WriteAllBytes(At("empty.mp4"), []);
        File.WriteAllBytes(At("cut.mp4"), File.ReadAllBytes(video)[..3000]);
        File.WriteAllText(At("list.m3u8"), "#EXTM3U\n#EXTINF:5,\nhttp://192.0.2.1/a.ts\n");
        File.WriteAllText(At("list.ffconcat"), "ffconcat version 1.0\nfile whole.mp4\n");

        Assert.Contains("sound and no pictures", Trace(At("sound.m4a"), "-o", At("a.csv")).Refusal(), StringComparison.Ordinal);
        foreach (string name in new[] { "empty.mp4", "cut.mp4", "list.m3u8", "list.ffconcat" })
        {
            Assert.StartsWith(At(name) + ": ffmpeg finds no video in this file", Trace(At(name), "-o", At("a.csv")).Refusal(), StringComparison.Ordinal);
        }

        Assert.Contains("no such file", Trace(At("gone.mp4"), "-o", At("a.csv")).Refusal(), StringComparison.Ordinal);
        Assert.Contains("within the picture of 192 x 108 pixels, found '180,0,20,20'", Trace(video, "--region", "180,0,20,20", "-o", At("a.csv")).Refusal(), StringComparison.Ordinal);
        Assert.False(File.Exists(At("a.csv")));
    }

    [SkippableFact]
    public void A_video_that_breaks_off_gives_the_trace_so_far_and_says_so()
    {
        Skip.IfNot(RenderedClip.HasFfmpeg, RenderedClip.NotInstalled);
        string video = Rendered(Clip(count: 600), "long.mkv", "");
        byte[] whole = File.ReadAllBytes(video);
        File.WriteAllBytes(At("half.mkv"), whole[..(whole.Length / 2)]);
        ProgramRun run = Trace(At("half.mkv"), "--region", "44,42,16,16", "-o", At("half.csv"));
        Assert.Equal(0, run.Code);
        Assert.Contains("the file states 20.0 s, its pictures last", Joined(run.Output), StringComparison.Ordinal);
    }

    [Fact]
    public void Without_ffmpeg_one_sentence_says_how_to_get_it()
    {
        File.WriteAllBytes(At("any.mp4"), [1, 2, 3]);
        Environment.SetEnvironmentVariable("DMXPROBE_FFMPEG", At("nowhere"));
        try
        {
            Assert.Contains("install ffmpeg", Trace(At("any.mp4"), "-o", At("a.csv")).Refusal(), StringComparison.Ordinal);
        }
        finally
        {
            Environment.SetEnvironmentVariable("DMXPROBE_FFMPEG", null);
        }
    }

    [Theory]
    [InlineData("--region", "1,2,3")]
    [InlineData("--region", "-1,2,3,4")]
    [InlineData("--region", "1,2,0,4")]
    [InlineData("--region", "99999999999,2,3,4")]
    [InlineData("--start", "noon")]
    public void Options_that_cannot_be_are_refused(string option, string value)
    {
        File.WriteAllBytes(At("any.mp4"), []);
        Assert.Contains($"'{value}'", Trace(At("any.mp4"), "-o", At("a.csv"), option + "=" + value).Refusal(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_file_that_is_there_is_not_written_over()
    {
        File.WriteAllBytes(At("any.mp4"), []);
        File.WriteAllText(At("a.csv"), "mine");
        Assert.Contains("--force", Trace(At("any.mp4"), "-o", At("a.csv")).Refusal(), StringComparison.Ordinal);
        Assert.Equal("mine", File.ReadAllText(At("a.csv")));
    }

    private static HarbourVideo Clip(double drift = 0, double brightness = 0.6, int count = 56 * HarbourVideo.Rate) =>
        new(HarbourHallScenario.Capture(HarbourHallFaults.All), HarbourRig.SwappedAddress, 49) { Drift = drift, Brightness = brightness, Count = count };

    private static double Likeness(string csv)
    {
        IReadOnlyList<Rgb> truth = HarbourTrace.LightOf(HarbourHallScenario.Capture(HarbourHallFaults.All), HarbourRig.SwappedAddress);
        List<(double Light, double Seen)> pairs = [];
        foreach (string[] cells in File.ReadLines(csv).Where(line => char.IsAsciiDigit(line[0])).Select(line => line.Split(',')))
        {
            double seconds = double.Parse(cells[0], CultureInfo.InvariantCulture);
            double seen = cells.Skip(1).Sum(cell => double.Parse(cell, CultureInfo.InvariantCulture));
            pairs.Add((truth[(int)Math.Round((1000 * (seconds + 2)) - (HarbourTrace.Delay / 1e6))].Luminance, seen));
        }

        double meanLight = pairs.Average(pair => pair.Light);
        double meanSeen = pairs.Average(pair => pair.Seen);
        return pairs.Sum(pair => (pair.Light - meanLight) * (pair.Seen - meanSeen))
            / Math.Sqrt(pairs.Sum(pair => Math.Pow(pair.Light - meanLight, 2)) * pairs.Sum(pair => Math.Pow(pair.Seen - meanSeen, 2)));
    }

    private string RegionOver(string name, string video, (int X, int Y, int Radius) light)
    {
        using JsonDocument page = JsonDocument.Parse(Trace(video, "-o", At(name + ".csv"), "--force", "--json", "--start", Clip().Start.ToString()).Output);
        return page.RootElement.GetProperty("regions").EnumerateArray()
            .Single(region => Covers([.. region.GetProperty("rectangle").EnumerateArray().Select(number => number.GetInt32())], light))
            .GetProperty("name").GetString()!;
    }

    private static bool Covers(int[] box, (int X, int Y, int Radius) light) =>
        box[0] <= light.X && light.X < box[0] + box[2] && box[1] <= light.Y && light.Y < box[1] + box[3];

    private static ProgramRun Trace(string video, params string[] more) => ProgramRun.Of(["trace", "from-video", video, .. more]);

    private ProgramRun Locate(string trace, string? region) => ProgramRun.Of(
        ["locate", Hall + "soundcheck.pcapng", "--patch", Hall + "patch.csv", "--unit", "LX1-6", "--trace", At(trace), .. region is null ? (string[])[] : ["--region", region]]);

    private static ProgramRun Units(string trace, string list, params string[] more) => ProgramRun.Of(
        ["locate", Hall + "soundcheck.pcapng", "--patch", Hall + "patch.csv", "--trace", trace, "--units", list, .. more]);

    private string Rendered(HarbourVideo clip, string name, string more)
    {
        string[] words = [.. RawPictures.Split(' '), .. more.Split(' ', StringSplitOptions.RemoveEmptyEntries), "-c:v", "mpeg4", "-q:v", "2", At(name)];
        RenderedClip.Ffmpeg(clip.Write, words);
        return At(name);
    }

    private string At(string name) => Path.Combine(_folder.FullName, name);

    private static string Joined(string text) => string.Join(' ', text.Split([' ', '\n'], StringSplitOptions.RemoveEmptyEntries));
}
