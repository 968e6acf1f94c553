using System.Globalization;
using System.Text;
using DmxProbe.Capture.Recording;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Line;
using DmxProbe.Testing.Serial;
using DmxProbe.Tests.Cli;

namespace DmxProbe.Tests.Live;

/// <summary>explain, locate, walk and patch check on a DMX line, recorded by its edges or at a serial port: it has no universe number.</summary>
public sealed class UnnumberedLineTests : IDisposable
{
    private const string Sheet = "captures/harbour-hall/patch.csv";
    private const int Slots = 112;
    private const int Followed = 105; // DR-1 is patched at 1.101; this light reads 1.105
    private const double PacketsPerSecond = 20;
    private const double Seconds = 16;

    private readonly string _folder = Directory.CreateTempSubdirectory("dmxprobe-lines-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Theory]
    [InlineData("line", "line:A", "line A", "the line's edges")]
    [InlineData("framed", "serial:A", "serial A", "message arrival at the USB interface")]
    [InlineData("uart", "serial:A", "serial A", "a serial port")]
    public void A_light_is_explained_located_and_walked_on_a_line_once_its_universe_is_said(string kind, string map, string label, string measuredAt)
    {
        string capture = Capture(kind);
        ProgramRun explain = ProgramRun.At(400, "explain", capture, "--patch", Sheet, "--unit", "DR-1", "--map", "1=" + map);
        Assert.StartsWith("DR-1 ", explain.Output, StringComparison.Ordinal);
        Assert.Contains($"at 1.101, on the wire {label}", explain.Output, StringComparison.Ordinal);
        Assert.DoesNotContain("Nothing sends", explain.Output, StringComparison.Ordinal);

        ProgramRun locate = ProgramRun.At(400, "locate", capture, "--patch", Sheet, "--unit", "DR-1", "--trace", Trace(), "--map", "1=" + map);
        Assert.StartsWith("DR-1 reads 1.105, not 1.101 as the sheet says", locate.Output, StringComparison.Ordinal);
        Assert.Contains($"levels: {measuredAt}; light: ", locate.Output, StringComparison.Ordinal);

        ProgramRun walk = ProgramRun.At(400, "walk", capture, "--patch", Sheet, "--map", "1=" + map);
        Assert.Contains($"sheet universe 1 is {label}", walk.Output, StringComparison.Ordinal);

        ProgramRun check = ProgramRun.At(400, "patch", "check", Sheet, "--capture", capture, "--map", "1=" + map);
        Assert.Contains($"sheet universe 1 = {label}", check.Output, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("line", "this capture holds line A only; say which universe of the sheet it is, as in --map 1=line:A")]
    [InlineData("framed", "this capture holds serial A only; say which universe of the sheet it is, as in --map 1=serial:A")]
    public void Without_a_map_it_is_asked_which_universe_the_line_is(string kind, string question)
    {
        string capture = Capture(kind);
        foreach (string[] words in (string[][])
            [
                ["explain", capture, "--patch", Sheet, "--unit", "DR-1"],
                ["locate", capture, "--patch", Sheet, "--unit", "DR-1", "--trace", Trace()],
                ["walk", capture, "--patch", Sheet],
                ["patch", "check", Sheet, "--capture", capture],
            ])
        {
            Assert.Contains(question, ProgramRun.Of(words).Refusal(), StringComparison.Ordinal);
        }
    }

    // The same levels everywhere: slots 101 to 112 step on their own every now and then.
    private static byte[] Levels(double second)
    {
        byte[] slots = new byte[Slots];
        for (int slot = 101; slot <= Slots; slot++)
        {
            int step = (int)(second / (0.7 + (0.13 * (slot - 100))));
            slots[slot - 1] = (byte)new Random((slot * 1_000) + step).Next(256);
        }

        return slots;
    }

    private string Trace()
    {
        StringBuilder text = new("time,level\n");
        Random noise = new(3);
        for (double second = 0.5; second < Seconds - 0.5; second += 1 / 30.0)
        {
            double level = Levels(Math.Floor(second * PacketsPerSecond) / PacketsPerSecond)[Followed - 1] / 255.0;
            text.Append(CultureInfo.InvariantCulture, $"{second:0.0000},{level + (0.02 * (noise.NextDouble() - 0.5)):0.0000}\n");
        }

        string path = Path.Combine(_folder, "trace.csv");
        File.WriteAllText(path, text.ToString());
        return path;
    }

    private string Capture(string kind)
    {
        if (kind == "line")
        {
            LineSynthesiser line = new(1);
            line.Idle(100);
            for (int packet = 0; packet < Seconds * PacketsPerSecond; packet++)
            {
                line.Levels(new LineForm { MarkBeforeBreak = (1e6 / PacketsPerSecond) - 188 - (44 * (Slots + 1)) }, Levels(packet / PacketsPerSecond));
            }

            string file = Path.Combine(_folder, "line.vcd");
            File.WriteAllText(file, new LineRecording(1_000_000, [new LineTrack("data +", line.Signal)]).ToVcd());
            return file;
        }

        bool isFramed = kind == "framed";
        SerialRecords records = new(isFramed ? InterfaceContent.SerialFramed : InterfaceContent.SerialUart);
        for (int packet = 0; packet < Seconds * PacketsPerSecond; packet++)
        {
            byte[] slots = Levels(packet / PacketsPerSecond);
            byte[] run = isFramed ? SerialOctets.Run(SerialOctets.Received(0, slots)) : [1, 0, .. SerialOctets.Run([0, .. slots])];
            records.Add(1_773_517_260_000_000_000 + (long)(packet * 1e9 / PacketsPerSecond), run);
        }

        string folder = Path.Combine(_folder, kind);
        using Recorder recorder = new(new RecorderSettings { Folder = folder, Clock = TimeProvider.System });
        using RecordingSource source = new(records, recorder);
        while (source.Read(out _) != ReadStatus.End)
        {
        }

        recorder.Finish();
        return folder;
    }
}
