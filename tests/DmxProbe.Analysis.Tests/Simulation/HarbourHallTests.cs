using System.Text;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Testing.Files;
using DmxProbe.Testing.HarbourHall;
using DmxProbe.Testing.Network;

namespace DmxProbe.Analysis.Tests.Simulation;

/// <summary>Facts about the soundcheck that ships (design.md section 11).</summary>
public class HarbourHallTests
{
    private const int Slots = 14 + 20 + 8 + 18; // before the slots of an ArtDmx packet
    private static readonly Lazy<SimulatedCapture> CaptureOctets = new(() => HarbourHallScenario.Capture(HarbourHallFaults.All));

    [Fact]
    public void The_files_in_captures_are_the_ones_this_code_makes()
    {
        foreach ((string name, byte[] bytes) in HarbourHallFiles.Make(HarbourHallFaults.All))
        {
            string path = Path.Combine([Places.Repository, "captures", .. name.Split('/')]);
            Assert.True(
                File.ReadAllBytes(path).AsSpan().SequenceEqual(bytes),
                name + " differs: run the command in captures/README.md and look at what changed");
            Assert.InRange(bytes.Length, 1, 5_000_000);
        }
    }

    [Fact]
    public void There_are_26_units_on_three_universes_and_none_overlap()
    {
        Assert.Equal(26, HarbourRig.Units.Count);
        Assert.Equal([1, 2, 3], HarbourRig.Units.Select(u => u.Universe).Distinct().Order());
        (int, int)[] used =
        [
            .. HarbourRig.Units.SelectMany(u => Enumerable.Range(u.Address, u.Mode.Slots.Length).Select(s => (u.Universe, s))),
        ];
        Assert.Equal(used.Length, used.Distinct().Count());
        Assert.Equal([1, 13, 25, 37, 49, 61], HarbourRig.Units.Where(u => u.Name.StartsWith("LX1", StringComparison.Ordinal)).Select(u => u.Address));
    }

    [Fact]
    public void The_main_controller_and_an_old_laptop_send()
    {
        (string, string)[] streams = [.. CaptureOctets.Value.Streams.Select(s => (s.Universe.Label, s.Sender))];

        Assert.Equal(
            [
                ("sACN 2", "main controller"), ("sACN 2", "old laptop"), ("sACN 3", "main controller"),
                ("Art-Net 0:0:0 = Port-Address 0", "main controller"),
            ],
            streams);
        Assert.All(
            CaptureOctets.Value.Packets.Where(p => p.Sent.Universe.Protocol == UniverseProtocol.Sacn && p.Sent.CountsInSequence),
            p => Assert.Equal(100, p.Sent.Frame[42 + 108]));
        Assert.Equal("2026-03-14T19:41", CaptureOctets.Value.Packets[0].Time.ToString()[..16]);
        Assert.Equal(0, CaptureOctets.Value.Streams.Sum(s => s.Lost + s.Duplicated + s.Late));
        Assert.InRange(CaptureOctets.Value.Truth(new UniverseId(UniverseProtocol.Sacn, 2), "old laptop").Changes, 1, 1);
        Assert.True(CaptureOctets.Value.Packets.Count(p => p.Sent.Kind == PacketKind.Reply) > 15);
    }

    [Fact]
    public void Nothing_of_the_faults_is_left_on_a_healthy_night()
    {
        SimulatedCapture healthy = HarbourHallScenario.Capture(HarbourHallFaults.None);

        Assert.DoesNotContain(healthy.Packets, p => p.Sent.Sender == HarbourHallScenario.OldLaptop);
        Assert.Equal(61, HarbourHallScenario.AddressReadByLx16(HarbourHallFaults.None));
        Assert.Equal(16, HarbourHallScenario.AddressReadByLx16(HarbourHallFaults.All));
        Assert.Equal(
            HarbourHallScenario.Capture(HarbourHallFaults.DigitsSwapped).Packets.Count, healthy.Packets.Count);
    }

    [Fact]
    public void The_light_at_1_016_changes_often_and_stays_inside_open_and_no_function()
    {
        byte[][] frames = Frames();
        double last = -1;
        double lastAt = -1;
        int changes = 0;
        foreach ((int index, byte[] frame) in frames.Index())
        {
            // By hand from the chart: dimmer, red, green, blue, amber, UV, zoom, shutter, macro, white.
            ReadOnlySpan<byte> s = frame.AsSpan(Slots + 15, 10);
            Assert.InRange(s[7], 0, 9); // shutter open
            Assert.InRange(s[8], 0, 9); // no macro
            double level = s[0] / 255.0 * (s[1] + s[2] + s[3] + (0.75 * s[4]) + (1.5 * s[9])) / 765;
            double at = (ArtDmx(index).Time - CaptureOctets.Value.Start).TotalSeconds;
            if (last >= 0 && Math.Abs(level - last) > 0.05 && at - lastAt > 0.5)
            {
                changes++;
                lastAt = at;
                last = level;
            }

            last = last < 0 ? level : last;
        }

        Assert.InRange(changes, 8, 100);
    }

    [Fact]
    public void Slots_of_1_016_are_the_end_of_LX1_2_and_the_start_of_LX1_3()
    {
        RigMode wash = HarbourCharts.Wash.Modes[0];
        RigUnit two = HarbourRig.Unit("LX1-2");
        RigUnit three = HarbourRig.Unit("LX1-3");

        Assert.Equal(HarbourRig.SwappedAddress + wash.IndexOf("Dimmer"), two.Address + wash.IndexOf("Blue"));
        Assert.Equal(HarbourRig.SwappedAddress + wash.IndexOf("Zoom"), two.Address + wash.IndexOf("White"));
        Assert.Equal(HarbourRig.SwappedAddress + wash.IndexOf("White"), three.Address + wash.IndexOf("Dimmer"));
    }

    [Theory]
    [InlineData(HarbourHallFaults.All, 16)]
    [InlineData(HarbourHallFaults.None, 61)]
    public void The_trace_follows_the_address_that_the_light_reads_better_than_any_other(HarbourHallFaults faults, int address)
    {
        IReadOnlyList<HarbourTrace.Sample> trace =
            HarbourTrace.Of(CaptureOctets.Value, HarbourHallScenario.AddressReadByLx16(faults), seed: 61);
        RigMode wash = HarbourCharts.Wash.Modes[0];
        byte[][] frames = Frames();
        long[] times = [.. Enumerable.Range(0, frames.Length).Select(i => (ArtDmx(i).Time - CaptureOctets.Value.Packets[0].Time).Nanoseconds)];

        (double R, int Address)[] ranked =
        [
            .. Enumerable.Range(1, 110)
                .Select(a => (Correlation(trace, t => LightAt(a, t)), a))
                .OrderByDescending(c => c.Item1),
        ];

        Assert.Equal(address, ranked[0].Address);

        // Common practice, no source: a plain correlation is believed from 0.9 on with a lead of 0.03.
        Assert.InRange(ranked[0].R, 0.9, 1);
        Assert.InRange(ranked[0].R - ranked[1].R, 0.03, 1);

        double LightAt(int start, double seconds)
        {
            int index = Array.BinarySearch(times, (long)(seconds * 1e9) - HarbourTrace.Delay - 80_000_000);
            index = index < 0 ? Math.Max(~index - 1, 0) : index;
            double level = HarbourLight.Of(wash, frames[index].AsSpan(Slots + start - 1, 10)).Luminance;
            return level * Math.Sqrt(level);
        }
    }

    [Fact]
    public void The_trace_has_about_thirty_pictures_a_second_and_is_not_clipped()
    {
        IReadOnlyList<HarbourTrace.Sample> trace = HarbourTrace.Of(CaptureOctets.Value, HarbourRig.SwappedAddress, seed: 61);

        Assert.InRange(trace.Count, 1_735, 1_745);
        double[] gaps = [.. trace.Zip(trace.Skip(1), (a, b) => b.Seconds - a.Seconds)];
        Assert.InRange(gaps.Min(), 0.028, 0.032);
        Assert.InRange(gaps.Max(), 0.035, 0.039);
        Assert.InRange(trace.Count(s => s.Level.R is 0 or 1 || s.Level.G is 0 or 1 || s.Level.B is 0 or 1), 0, 10);
    }

    [Fact]
    public void Every_chart_covers_0_to_255_of_every_slot_once()
    {
        Assert.All(HarbourCharts.All.SelectMany(c => c.Modes).SelectMany(m => m.Slots), slot =>
        {
            int next = 0;
            foreach (RigRange range in slot.Ranges)
            {
                Assert.Equal(next, range.From);
                next = range.To + 1;
            }

            Assert.Equal(256, next);
        });
        Assert.True(HarbourCharts.Wash.Modes.Length >= 2);
    }

    [Fact]
    public void The_sheet_has_a_line_for_each_unit()
    {
        byte[] file = HarbourHallFiles.Make(HarbourHallFaults.All)[HarbourHallFiles.Folder + "/patch.csv"];
        string[] lines = Encoding.UTF8.GetString(file).TrimEnd('\n').Split('\n');

        Assert.Equal(27, lines.Length);
        Assert.Equal("LX1-6,led-wash,10 slot,1,61,first bar,stage left 6,C1,,", lines[6]);
        Assert.All(lines, l => Assert.Equal(9, l.Count(c => c == ',')));
    }

    private static SimulatedPacket ArtDmx(int index) => ArtDmxOctets.Value[index];

    private static readonly Lazy<SimulatedPacket[]> ArtDmxOctets = new(() =>
    [
        .. CaptureOctets.Value.Packets.Where(
            p => p.Sent.Universe == HarbourHallScenario.UniverseOne && p.Sent.Kind == PacketKind.Levels),
    ]);

    private static byte[][] Frames() => [.. ArtDmxOctets.Value.Select(p => p.Sent.Frame)];

    private static double Correlation(IReadOnlyList<HarbourTrace.Sample> trace, Func<double, double> light)
    {
        double[] x = [.. trace.Select(s => light(s.Seconds))];
        double[] y = [.. trace.Select(s => s.Level.Luminance)];
        double mx = x.Average();
        double my = y.Average();
        double sx = x.Sum(v => (v - mx) * (v - mx));
        double sy = y.Sum(v => (v - my) * (v - my));
        return sx < 1e-6 ? 0 : x.Zip(y, (a, b) => (a - mx) * (b - my)).Sum() / Math.Sqrt(sx * sy);
    }
}
