using DmxProbe.Analysis.Decoding;
using DmxProbe.Testing.Line;
using DmxProbe.Testing.Network;
using DmxProbe.Testing.Network.Packets;

namespace DmxProbe.Testing.Diagnosis;

/// <summary>Healthy rigs of many shapes: nothing in them is a fault, however odd it looks.</summary>
public static class HealthyRigs
{
    private const long Second = 1_000_000_000;
    private const long Millisecond = 1_000_000;

    /// <summary>The shapes with their names.</summary>
    public static IReadOnlyList<(string Name, Func<ulong, FaultRig> Draw)> Shapes { get; } =
    [
        ("sACN, plain", seed => new FaultRig(seed, UniverseProtocol.Sacn)),
        ("Art-Net, plain", seed => new FaultRig(seed, UniverseProtocol.ArtNet)),
        ("sACN, keep-alive-only look", seed => Still(new FaultRig(seed, UniverseProtocol.Sacn), 820, 980)),
        ("Art-Net, keep-alive-only look", seed => Still(new FaultRig(seed, UniverseProtocol.ArtNet), 3_800, 4_100)),
        ("sACN, 24 slots at 400 Hz", seed => Small(new FaultRig(seed, UniverseProtocol.Sacn))),
        ("sACN, backup at lower priority", Backup),
        ("sACN, sync", seed => Each(new FaultRig(seed, UniverseProtocol.Sacn), stream => stream.SyncAddress = 900)),
        ("unicast", seed =>
        {
            FaultRig rig = new(seed, seed % 2 == 0 ? UniverseProtocol.Sacn : UniverseProtocol.ArtNet);
            return Each(rig, stream => stream.To = rig.Gateway);
        }),
        ("jittery but legal Wi-Fi", Wireless),
        ("45 Hz sender", seed => Each(new FaultRig(seed, seed % 2 == 0 ? UniverseProtocol.Sacn : UniverseProtocol.ArtNet), stream =>
            stream.Plan = stream.Plan with { ConstantRate = true, SlotCount = 512, Tick = 22_222_222, TickJitter = 200_000 })),
        ("sender that restarts", Restarting),
        ("Art-Net with devices", Devices),
        ("line", seed => Line(seed, (line, _) => line.Slots = _ => 512)),
        ("line, 24 slots at 400 Hz", seed => Line(seed, (line, _) =>
        {
            line.Slots = _ => 24;
            line.Form = (_, form) => form with { Break = 176, MarkBeforeBreak = 1_000, InterSlot = 0 };
        })),
        ("line, busy RDM", seed => Line(seed, (line, random) =>
        {
            int every = (int)random.Next(1, 4);
            line.After = (index, synthesiser, form) =>
            {
                if (index % every == 0)
                {
                    LineForm rdm = form with { Break = 200, MarkAfterBreak = 20, MarkBeforeBreak = 300, InterSlot = 0 };
                    synthesiser.Packet(rdm, RdmOctets.GetStartAddress(0x7FF000000001, 0x7FF000000002));
                    synthesiser.Packet(rdm with { MarkBeforeBreak = 1_000 }, RdmOctets.StartAddressIs(0x7FF000000002, 0x7FF000000001, 61));
                }
            };
        })),
        ("line, legal extremes", seed => Line(seed, (line, random) =>
        {
            double brk = random.Chance(0.5) ? 94 : 800, mark = random.Chance(0.5) ? 14 : 700, rest = random.Chance(0.5) ? 60 : 20_000;
            line.Form = (_, form) => form with { Break = brk, MarkAfterBreak = mark, MarkBeforeBreak = rest, Bit = 4 + (random.Next(-40, 41) * 0.001), Skew = 0.2, Jitter = 0.05 };
        })),
    ];

    private static FaultRig Each(FaultRig rig, Action<FaultStream> change)
    {
        rig.Main.Streams.ForEach(change);
        return rig;
    }

    private static FaultRig Still(FaultRig rig, long from, long to)
    {
        rig.Show.Still = true;
        return Each(rig, stream => stream.Plan = stream.Plan with { ConstantRate = false, KeepAliveFrom = from * Millisecond, KeepAliveTo = to * Millisecond });
    }

    private static FaultRig Small(FaultRig rig)
    {
        rig.Length = 8 * Second;
        rig.Units.RemoveAll(unit => unit.Address + 14 > 24);
        return Each(rig, stream => stream.Plan = stream.Plan with { ConstantRate = true, SlotCount = 24, Tick = 2_500_000, TickJitter = 50_000 });
    }

    private static FaultRig Backup(ulong seed)
    {
        FaultRig rig = new(seed, UniverseProtocol.Sacn);
        int low = (int)rig.Random.Next(1, 100);
        for (int universe = 1; universe <= FaultRig.Universes; universe++)
        {
            rig.Target = universe;
            rig.Another("backup", rig.Show.Of(universe)).Priority = _ => low;
        }

        return rig;
    }

    private static FaultRig Wireless(ulong seed)
    {
        FaultRig rig = new(seed, seed % 2 == 0 ? UniverseProtocol.Sacn : UniverseProtocol.ArtNet) { Jitter = 60 * Millisecond };
        rig.Loss = 0.0005;
        return rig;
    }

    private static FaultRig Restarting(ulong seed)
    {
        FaultRig rig = new(seed, seed % 2 == 0 ? UniverseProtocol.Sacn : UniverseProtocol.ArtNet);
        long at = rig.Random.Next(5, 20) * Second, gap = rig.Random.Next(300, 1_500) * Millisecond;
        return Each(rig, stream =>
        {
            // It begins its count anew at 0, as programs do.
            stream.Plan = stream.Plan with { Restarts = [new SenderRestart(at, gap, 0)] };
            long since = -1;
            stream.Sequence = (index, time) =>
            {
                since = since < 0 && time > at ? index : since;
                return since < 0 ? index + 1 : index - since + 1;
            };
        });
    }

    private static FaultRig Devices(ulong seed)
    {
        FaultRig rig = new(seed, UniverseProtocol.ArtNet);
        for (int universe = 0; universe < FaultRig.Universes; universe++)
        {
            Host host = Host.At("gateway " + universe, FormattableString.Invariant($"10.0.0.{30 + universe}"));
            rig.Others.Add(new ArtNetNode("gateway " + universe, host, new ArtPollReplyFields { Address = host.Ipv4, PortAddress = universe, PortName = "gateway", LongName = "gateway" }) { Pollers = [rig.Main] });
        }

        return rig;
    }

    private static FaultRig Line(ulong seed, Action<FaultLine, SeededRandom> shape)
    {
        FaultRig rig = new(seed, UniverseProtocol.Sacn) { Line = new FaultLine() };
        shape(rig.Line, rig.Random);
        return rig;
    }
}
