using System.Globalization;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Capture.Filters;
using DmxProbe.Capture.Live;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Benchmarks.Live;

/// <summary>
/// Listens and prints the last levels of every universe, a line each: <c>sacn 1: 0,7,14,...</c>. For comparing with what an
/// independent sender says it sent. <c>listen-levels INPUT UNIVERSES SECONDS</c>.
/// </summary>
internal static class ListenLevels
{
    public static int Run(string[] args)
    {
        LiveSettings settings = new()
        {
            Clock = TimeProvider.System,
            Tell = notice => Console.Error.WriteLine(notice.Text),
            Universes = UniverseRanges.Parse(args[1], 1, 63_999, 4_096, out _),
        };
        ILiveSource live = LiveInput.Open(args[0], settings);
        Duration length = Duration.FromSeconds(double.Parse(args[2], CultureInfo.InvariantCulture));
        using EndingSource source = new(live, [live], TimeProvider.System, length, CancellationToken.None);
        LastLevels last = new();
        new Session(source, new RecordDecoder(), last).Run(CancellationToken.None);
        foreach ((UniverseId universe, byte[] slots) in last.Universes.OrderBy(pair => pair.Key))
        {
            string protocol = universe.Protocol == UniverseProtocol.Sacn ? "sacn" : "artnet";
            Console.WriteLine($"{protocol} {universe.Number}: {string.Join(',', slots)}");
        }

        return 0;
    }

    private sealed class LastLevels : IAnalyzer
    {
        public Dictionary<UniverseId, byte[]> Universes { get; } = [];

        public void OnFrame(in DmxFrame frame)
        {
            if (frame.StartCode == 0)
            {
                Universes[frame.Universe] = frame.Slots.ToArray();
            }
        }

        public void OnEvent(in LinkEvent linkEvent)
        {
        }

        public void OnTime(Timestamp now)
        {
        }
    }
}
