using System.Globalization;
using System.Text;
using DmxProbe.Protocols.CaptureFiles;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Network;

namespace DmxProbe.Testing.HarbourHall;

/// <summary>The files of Harbour Hall, byte for byte the same whenever and wherever they are made.</summary>
public static class HarbourHallFiles
{
    /// <summary>Folder of the files below captures/.</summary>
    public const string Folder = "harbour-hall";

    /// <summary>All files by their path below captures/, with / between folders.</summary>
    /// <param name="faults">What is wrong; <see cref="HarbourHallFaults.All"/> gives the files that ship.</param>
    public static IReadOnlyDictionary<string, byte[]> Make(HarbourHallFaults faults)
    {
        SimulatedCapture capture = HarbourHallScenario.Capture(faults);
        IReadOnlyList<HarbourTrace.Sample> trace = HarbourTrace.Of(capture, HarbourHallScenario.AddressReadByLx16(faults), seed: 61);
        Dictionary<string, byte[]> files = new()
        {
            [Folder + "/soundcheck.pcapng"] = Pcapng(capture),
            [Folder + "/stage-left.vcd"] = Encoding.UTF8.GetBytes(HarbourLine.Recording(faults).ToVcd()),
            [Folder + "/patch.csv"] = Text(PatchLines()),
            [Folder + "/lx1-6-trace.csv"] = Text(TraceLines(trace)),
            [Folder + "/lx1-6-notes.csv"] = Text(
            [
                "time,unit,look",
                .. HarbourNotes.Looks(trace).Select(look => string.Create(CultureInfo.InvariantCulture, $"{look.Seconds:0.0},LX1-6,{look.Word}")),
            ]),
            [Folder + "/lx1-6-taps.csv"] = Text(
            [
                "time,unit,look",
                .. HarbourNotes.Taps(trace, seed: 16).Select(tap => string.Create(CultureInfo.InvariantCulture, $"{tap:0.00},LX1-6,tap")),
            ]),
        };
        foreach (RigChart chart in HarbourCharts.All)
        {
            files.Add(Folder + "/charts/" + chart.Type + ".csv", Text(ChartLines(chart)));
        }

        return files;
    }

    /// <summary>A simulated capture as a pcapng file with nanoseconds.</summary>
    public static byte[] Pcapng(SimulatedCapture capture)
    {
        using MemoryStream stream = new();
        using (PcapngWriter writer = new(stream, "DmxProbe rig simulator", leaveOpen: true))
        {
            int mirror = writer.AddInterface("mirror", "mirror port, simulated", LinkType.Ethernet);
            foreach (SimulatedPacket packet in capture.Packets)
            {
                writer.WritePacket(mirror, packet.Time, packet.Sent.Frame, packet.Sent.Frame.Length);
            }
        }

        return stream.ToArray();
    }

    private static IEnumerable<string> PatchLines()
    {
        yield return "unit,type,mode,universe,address,position,chain,circuit,sharesWith,note";
        foreach (RigUnit u in HarbourRig.Units)
        {
            yield return string.Create(
                CultureInfo.InvariantCulture,
                $"{u.Name},{u.Chart.Type},{u.Mode.Name},{u.Universe},{u.Address},{u.Position},{u.Chain},{u.Circuit},,{u.Note}");
        }
    }

    private static IEnumerable<string> ChartLines(RigChart chart)
    {
        yield return "mode,slot,function,from,to,meaning";
        foreach (RigMode mode in chart.Modes)
        {
            foreach ((int index, RigSlot slot) in mode.Slots.Index())
            {
                foreach (RigRange range in slot.Ranges)
                {
                    yield return string.Create(
                        CultureInfo.InvariantCulture,
                        $"{mode.Name},{index + 1},{slot.Function},{range.From},{range.To},{range.Meaning}");
                }
            }
        }
    }

    private static IEnumerable<string> TraceLines(IReadOnlyList<HarbourTrace.Sample> samples)
    {
        yield return "time,r,g,b";
        foreach (HarbourTrace.Sample s in samples)
        {
            yield return string.Create(
                CultureInfo.InvariantCulture,
                $"{s.Seconds:0.0000},{s.Level.R:0.0000},{s.Level.G:0.0000},{s.Level.B:0.0000}");
        }
    }

    private static byte[] Text(IEnumerable<string> lines) =>
        Encoding.UTF8.GetBytes(string.Concat(lines.Select(line => line + "\n")));
}
