using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Serial;

namespace DmxProbe.Testing.Gateways;

/// <summary>
/// A wireless link behind a gateway's line: its receiver repeats what it has, a little later, and freezes, falls silent, follows
/// another transmitter and loses frames when it is told to. Times in ns since the start.
/// </summary>
public sealed class SimulatedLink
{
    private const long Zero = 1_700_000_000_000_000_000;

    /// <summary>From a packet of the line to the receiver's having it.</summary>
    public long Delay { get; init; } = 11_000_000;

    /// <summary>Distance of the receiver's own packets.</summary>
    public long Tick { get; init; } = 25_000_000;

    /// <summary>It repeats what it has, from here so long.</summary>
    public IReadOnlyList<(long From, long Length)> Freezes { get; init; } = [];

    /// <summary>It sends nothing, from here so long.</summary>
    public IReadOnlyList<(long From, long Length)> Silences { get; init; } = [];

    /// <summary>It follows somebody else, from here so long.</summary>
    public IReadOnlyList<(long From, long Length)> Detours { get; init; } = [];

    /// <summary>Whom it then follows.</summary>
    public Func<long, byte[]> Other { get; init; } = _ => new byte[512];

    /// <summary>Single packets that it leaves out, by number.</summary>
    public IReadOnlySet<int> Lost { get; init; } = new HashSet<int>();

    /// <summary>Changes what comes out: the number of the packet, and its slots.</summary>
    public Action<int, byte[]> Alter { get; init; } = (_, _) => { };

    /// <summary>Receiver's clock less that of the line.</summary>
    public long ClockOffset { get; init; }

    /// <summary>When each of its packets began.</summary>
    public List<long> Times { get; } = [];

    /// <summary>What comes out.</summary>
    /// <param name="line">What goes in: when each packet began, and its slots.</param>
    public SerialRecords Run(IReadOnlyList<(long Time, byte[] Slots)> line)
    {
        SerialRecords records = new(InterfaceContent.SerialFramed);
        int next = 0;
        int number = 0;
        byte[]? has = null;
        for (long time = line[0].Time + Delay + 3_000_000; time < line[^1].Time; time += Tick)
        {
            bool isFrozen = Freezes.Any(span => time >= span.From && time < span.From + span.Length);
            while (next < line.Count && line[next].Time + Delay <= time)
            {
                has = isFrozen && has is not null ? has : line[next].Slots;
                next++;
            }

            if (has is null || Lost.Contains(++number) || Silences.Any(span => time >= span.From && time < span.From + span.Length))
            {
                continue;
            }

            byte[] sent = [.. Detours.Any(span => time >= span.From && time < span.From + span.Length) ? Other(time) : has];
            Alter(number, sent);
            Times.Add(time);
            records.Add(Zero + time + ClockOffset, SerialOctets.Run(SerialOctets.Received(0, sent)));
        }

        return records;
    }
}
