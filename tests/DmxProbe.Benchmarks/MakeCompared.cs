using System.Globalization;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Gateways;
using DmxProbe.Testing.Network;
using DmxProbe.Testing.Shows;

namespace DmxProbe.Benchmarks;

/// <summary>
/// Writes what <c>compare</c> is shown on: <c>make-compared FOLDER</c>. Two nights of one show with 20 differences planted, and
/// both sides of a wireless link with 7 freezes planted; prints what was planted, to be held against what the program finds.
/// </summary>
internal static class MakeCompared
{
    private const long Second = 1_000_000_000;
    private const long Zero = 1_700_000_000_000_000_000;

    public static int Run(string[] args)
    {
        if (args.Length != 1)
        {
            Console.Error.WriteLine("make-compared FOLDER: name the folder to write to");
            return 2;
        }

        string folder = Directory.CreateDirectory(args[0]).FullName;
        Directory.CreateDirectory(Path.Combine(folder, "charts"));
        File.WriteAllText(Path.Combine(folder, "patch.csv"), ShowRig.Sheet(PlantedNights.Last.Universes));
        File.WriteAllText(Path.Combine(folder, "charts", "spot.csv"), ShowRig.Chart);
        Record(new CuedShow(PlantedNights.Last), folder, "friday");
        Record(new CuedShow(PlantedNights.Tonight), folder, "saturday");
        foreach ((string kind, string subject, int cue) in PlantedNights.Planted)
        {
            Say($"nights: {kind} {subject}{(cue < 0 ? "" : string.Create(CultureInfo.InvariantCulture, $" cue {cue}"))}");
        }

        SimulatedGateway gateway = new(21);
        gateway.Senders.Add(new GatewaySender("main", 1, 100, Levels.Steps(1, 30_000_000)));
        gateway.Senders.Add(new GatewaySender("other", 2, 100, Levels.Steps(2, 30_000_000)));
        Record(gateway.Run(50 * Second).Network, folder, "near");
        SimulatedLink link = new() { Freezes = PlantedLink.Freezes };
        Record(link.Run(gateway.LinePackets), folder, "far");
        foreach ((long from, long length) in PlantedLink.Freezes)
        {
            string time = DateTime.UnixEpoch.AddTicks((Zero + from) / 100).ToString("HH:mm:ss.fff", CultureInfo.InvariantCulture);
            Say($"link: frozen from {time} UTC for {length / 1_000_000} ms");
        }

        return 0;
    }

    private static void Record(ICaptureSource source, string folder, string name) =>
        RecordedShow.Record(source, Path.Combine(folder, name), Duration.FromSeconds(600));

    private static void Say(FormattableString text) => Console.WriteLine(text.ToString(CultureInfo.InvariantCulture));
}
