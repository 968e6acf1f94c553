using DmxProbe.Protocols.Records;

namespace DmxProbe.Testing.Network;

/// <summary>
/// A network with a capture on it: brings the packets of its senders together and harms them as told. The same seed
/// gives the same capture.
/// </summary>
/// <param name="seed">Seed of everything random.</param>
public sealed class SimulatedNetwork(ulong seed)
{
    private readonly List<SimulatedSender> _senders = [];

    /// <summary>Time 0 of the simulation.</summary>
    public Timestamp Start { get; init; } = Timestamp.FromUnixNanoseconds(1_700_000_000_000_000_000);

    /// <summary>Share of packets that do not arrive, 0 to 1. Each instance of a dual-stack packet is lost by itself.</summary>
    public double Loss { get; init; }

    /// <summary>Packets of a sender that are lost in a row once one is; 1 for losses that are independent.</summary>
    public int LossRun { get; init; } = 1;

    /// <summary>Share of packets that arrive twice, the copy right behind.</summary>
    public double Duplication { get; init; }

    /// <summary>Share of packets held back by <see cref="ReorderDelay"/>, so that later ones overtake them.</summary>
    public double Reorder { get; init; }

    /// <summary>How long a packet is held back, in ns.</summary>
    public long ReorderDelay { get; init; } = 60_000_000;

    /// <summary>Time on the way, in ns.</summary>
    public long Latency { get; init; } = 40_000;

    /// <summary>Up to this much more time on the way, in ns; packets of one sender do not overtake each other by it.</summary>
    public long Jitter { get; init; }

    /// <summary>Puts a sender on the network.</summary>
    public SimulatedNetwork Add(SimulatedSender sender)
    {
        _senders.Add(sender);
        return this;
    }

    /// <summary>Lets the senders send and captures what arrives.</summary>
    /// <param name="duration">Length of the simulation in ns.</param>
    public SimulatedCapture Run(long duration)
    {
        List<SentPacket> sent = [];
        foreach ((int index, SimulatedSender sender) in _senders.Index())
        {
            sent.AddRange(sender.Send(SeededRandom.For(seed, (ulong)index), duration));
        }

        SentPacket[] asked = [.. sent.OrderBy(p => p.Time)];
        foreach ((int index, SimulatedSender sender) in _senders.Index())
        {
            sent.AddRange(sender.Answer(asked, SeededRandom.For(seed, 1_000 + (ulong)index), duration));
        }

        SentPacket[] all = [.. sent.OrderBy(p => p.Time)];
        SimulatedPacket[] arrived = [.. Deliver(all).OrderBy(p => p.Time)];
        return new SimulatedCapture(Start, arrived, TruthLedger.Account(all, arrived));
    }

    private IEnumerable<SimulatedPacket> Deliver(SentPacket[] sent)
    {
        SeededRandom random = SeededRandom.For(seed, 2_000);
        Dictionary<string, (long Time, int Losing)> senders = [];
        foreach (SentPacket packet in sent)
        {
            (long last, int losing) = senders.GetValueOrDefault(packet.Sender);
            if (losing > 0 || random.Chance(Loss))
            {
                senders[packet.Sender] = (last, losing > 0 ? losing - 1 : LossRun - 1);
                continue;
            }

            long time = packet.Time + Latency + (Jitter > 0 ? random.Next(0, Jitter) : 0);
            time = Math.Max(time, last + 1_000);
            senders[packet.Sender] = (time, 0);
            if (random.Chance(Reorder))
            {
                time += ReorderDelay;
            }

            yield return new SimulatedPacket(At(time), packet, false);
            if (random.Chance(Duplication))
            {
                yield return new SimulatedPacket(At(time + 500), packet, true);
            }
        }
    }

    private Timestamp At(long time) => Start + Duration.FromNanoseconds(time);
}
