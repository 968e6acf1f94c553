using System.IO.Compression;
using System.Text.Json;
using DmxProbe.Protocols.Line;
using DmxProbe.Testing.Files;
using DmxProbe.Testing.Lines;

namespace DmxProbe.Protocols.Tests.CaptureFiles.Lines;

/// <summary>
/// Real recordings of DMX512 lines, public domain, in two formats; the VCD was made by a general logic-analyser tool from
/// the session. Their packets (frames.json) come from an independent edge reader.
/// </summary>
public sealed class RecordedLinesTests
{
    public static TheoryData<string> Names() =>
        ["srcA_usb_12mhz_all_255", "srcA_usb_1mhz_all_255", "srcA_usb_1mhz_all_85", "srcA_usb_500khz_all_85", "srcB_desk_0", "srcC_usb_0"];

    [SkippableTheory]
    [MemberData(nameof(Names))]
    public void Both_formats_of_a_recording_give_the_same_edges(string name)
    {
        LineReading session = Read(name + ".sr");
        LineReading vcd = Read(name + ".vcd");
        Assert.Null(session.Problem);
        Assert.Null(vcd.Problem);
        Assert.Equal(2, session.Tracks.Count);
        Assert.Equal(session.Interfaces.Select(face => face.Name), vcd.Interfaces.Select(face => face.Name));
        for (int channel = 0; channel < 2; channel++)
        {
            Assert.Equal(
                session.Tracks[channel].Changes.Select(change => (InUnits(change.Tick), change.Level)),
                vcd.Tracks[channel].Changes);
            Assert.Equal(InUnits(session.Tracks[channel].End), vcd.Tracks[channel].End);
            Assert.InRange(session.Tracks[channel].Changes.Count, 1_000, 60_000);
        }

        // A sample's time in units of the VCD file, which rounds to the nearest.
        long InUnits(long sample) =>
            (long)Math.Round((decimal)sample * vcd.Interfaces[0].TicksPerSecond / session.Interfaces[0].TicksPerSecond, MidpointRounding.AwayFromZero);
    }

    [SkippableTheory]
    [MemberData(nameof(Names))]
    public void Every_break_and_mark_after_break_of_the_independent_reference_is_in_the_edges(string name)
    {
        foreach (string format in (string[])[".sr", ".vcd"])
        {
            LineReading read = Read(name + format);
            double perMicrosecond = read.Interfaces[0].TicksPerSecond / 1e6;
            Dictionary<long, int> places = [];
            IReadOnlyList<(long Tick, LineLevel Level)> changes = read.Tracks[0].Changes;
            for (int i = 0; i < changes.Count; i++)
            {
                places.Add((long)Math.Round(changes[i].Tick / perMicrosecond * 1_000), i); // in nanoseconds
            }

            int frames = 0;
            foreach ((double start, double length, double mark) in Frames(name))
            {
                int at = places.First(place => Math.Abs(place.Key - (start * 1_000)) <= 1).Value;
                Assert.Equal(LineLevel.Low, changes[at].Level);
                Assert.InRange((changes[at + 1].Tick - changes[at].Tick) / perMicrosecond, length - 0.002, length + 0.002);
                Assert.InRange((changes[at + 2].Tick - changes[at + 1].Tick) / perMicrosecond, mark - 0.002, mark + 0.002);
                frames++;
            }

            Assert.True(frames > 0, "the reference holds no frame");
        }
    }

    [SkippableTheory]
    [InlineData("srcA_usb_12mhz_all_255", 84)] // 83.33 ns, up to the next
    [InlineData("srcA_usb_1mhz_all_255", 1_000)]
    [InlineData("srcA_usb_1mhz_all_85", 1_000)]
    [InlineData("srcA_usb_500khz_all_85", 2_000)]
    [InlineData("srcB_desk_0", 1_000)]
    [InlineData("srcC_usb_0", 1_000)]
    public void The_resolution_is_the_sampling_period_though_the_clock_of_the_VCD_file_is_finer(string name, long nanoseconds)
    {
        Assert.Equal(nanoseconds, Read(name + ".sr").Interfaces[0].Resolution.Nanoseconds);
        LineReading vcd = Read(name + ".vcd");
        Assert.Equal(nanoseconds, vcd.Interfaces[0].Resolution.Nanoseconds);
        Assert.Equal(vcd.Interfaces[0].TicksPerSecond == 1_000_000_000 / nanoseconds ? 0 : 1, vcd.Assumptions.Count);
    }

    [SkippableTheory]
    [MemberData(nameof(Names))]
    public void Without_the_comment_the_sampling_period_is_found_from_the_edges_alone(string name)
    {
        string text = File.ReadAllText(PathOf(name + ".vcd")).Replace("MHz", "of them", StringComparison.Ordinal).Replace("kHz", "of them", StringComparison.Ordinal);
        Assert.Equal(Read(name + ".sr").Interfaces[0].Resolution, LineReading.Of(text).Interfaces[0].Resolution);
    }

    // The traps of PROVENANCE.md.
    [SkippableFact]
    public void A_file_with_time_and_values_on_one_line_and_no_dumpvars_is_read()
    {
        string path = PathOf("srcA_usb_12mhz_all_255.vcd");
        string text = File.ReadAllText(path);
        Assert.DoesNotContain("$dumpvars", text, StringComparison.Ordinal);
        Assert.Contains("#0 1! 0\"", text, StringComparison.Ordinal);
        LineReading read = Read("srcA_usb_12mhz_all_255.vcd");
        Assert.Equal((0, LineLevel.High), read.Tracks[0].Changes[0]);
        Assert.Equal((145_000, LineLevel.High), read.Tracks[1].Changes[1]);
    }

    [SkippableFact]
    public void Channel_names_with_a_plus_and_with_a_space_are_whole()
    {
        Assert.Equal(["DMX+", "DMX-"], Read("srcB_desk_0.vcd").Interfaces.Select(face => face.Name));
        Assert.Equal(["DMX", "DMX Inverse"], Read("srcA_usb_1mhz_all_85.vcd").Interfaces.Select(face => face.Name));
    }

    [SkippableFact]
    public void Time_units_of_100_ps_and_of_1_us_give_the_same_recording_length()
    {
        LineReading fine = Read("srcA_usb_12mhz_all_255.vcd");
        LineReading coarse = Read("srcA_usb_1mhz_all_255.vcd");
        Assert.Equal((10_000_000_000, 1_000_000), (fine.Interfaces[0].TicksPerSecond, coarse.Interfaces[0].TicksPerSecond));
        Assert.Equal(387_406_667, fine.Tracks[0].End);
        Assert.Equal(38_740, coarse.Tracks[0].End);
    }

    private static LineReading Read(string name)
    {
        using FileStream file = File.OpenRead(PathOf(name));
        return LineReading.Of(file);
    }

    private static string PathOf(params string[] name)
    {
        string? path = Places.SharedFile(["captures", "line", .. name]);
        Skip.If(path is null, Places.NoShared);
        return path!;
    }

    private static List<(double Start, double Length, double Mark)> Frames(string name)
    {
        using FileStream file = File.OpenRead(PathOf("reference", name + ".frames.json.gz"));
        using GZipStream text = new(file, CompressionMode.Decompress);
        using JsonDocument document = JsonDocument.Parse(text);
        return
        [
            .. document.RootElement.GetProperty("frames").EnumerateArray().Select(frame =>
                (frame.GetProperty("break_start_us").GetDouble(), frame.GetProperty("break_us").GetDouble(), frame.GetProperty("mab_us").GetDouble())),
        ];
    }
}
