using DmxProbe.Analysis.Decoding;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Testing.Network;
using DmxProbe.Testing.Network.Packets;

namespace DmxProbe.Testing.Diagnosis;

/// <summary>Causes put into senders and the network.</summary>
internal static class NetworkInjections
{
    private const long Second = 1_000_000_000;
    private const long Millisecond = 1_000_000;

    // Offsets in the UDP payload (E1.31-2018 tables 4-1 and 7-1; Art-Net 4, ArtDmx).
    private const int SacnAddressType = 118;
    private const int ArtNetLength = 16;
    private const int IpFlags = 14 + 6;
    private static readonly UniverseProtocol[] Sacn = [UniverseProtocol.Sacn];
    private static readonly UniverseProtocol[] ArtNet = [UniverseProtocol.ArtNet];
    private static readonly UniverseProtocol[] Both = [UniverseProtocol.Sacn, UniverseProtocol.ArtNet];

    /// <summary>The ways.</summary>
    public static IReadOnlyList<FaultInjection> List { get; } =
    [
        new("equal-priority", Sacn, (rig, mild) =>
        {
            FaultStream other = rig.Another("spare controller");
            other.Plan = mild ? other.Plan with { Start = 12 * Second } : other.Plan;
            rig.ComplainOfTarget();
        }),
        new("two-art-net-senders", ArtNet, (rig, mild) =>
        {
            FaultStream other = rig.Another("spare controller");
            other.Plan = mild ? other.Plan with { Start = 12 * Second } : other.Plan;
            rig.ComplainOfTarget();
        }),
        new("third-art-net-sender", ArtNet, (rig, mild) =>
        {
            rig.Another("spare controller");
            FaultStream third = rig.Another("laptop");
            third.Plan = mild ? third.Plan with { Start = 15 * Second } : third.Plan;
            rig.ComplainOfTarget();
        }),
        new("shared-identity", Sacn, (rig, mild) =>
        {
            FaultStream twin = rig.Another("main controller", cid: rig.Main.Cid);
            twin.Plan = mild ? twin.Plan with { Start = 10 * Second } : twin.Plan;
            rig.ComplainOfTarget();
        }),
        new("priority-takeover", Sacn, (rig, mild) =>
        {
            FaultStream other = rig.Another("backup");
            long from = rig.Random.Next(8, 14) * Second, to = mild ? from + (4 * Second) : long.MaxValue;
            other.Priority = time => time >= from && time < to ? 120 : 90;
            rig.ComplainOfTarget();
        }),
        new("keep-alive-slow", Both, (rig, mild) =>
        {
            bool sacn = rig.Protocol == UniverseProtocol.Sacn;
            long at = sacn ? (mild ? 1_150 : 2_000) * Millisecond : (mild ? 5_000 : 7_000) * Millisecond;
            LevelSource levels = rig.Stream.Plan.Levels;
            rig.Stream.Plan = rig.Stream.Plan with { Levels = (time, slots) => levels((time / (20 * Second) * 20 * Second) + (2 * Second), slots), ConstantRate = false, KeepAliveFrom = at, KeepAliveTo = at + (100 * Millisecond) };
            rig.Length = 45 * Second;
            rig.ComplainOfTarget();
        }),
        new("sender-stopped", Both, (rig, mild) =>
        {
            rig.Stream.Plan = rig.Stream.Plan with { Stop = (mild ? 17 : 8) * Second };
            rig.ComplainOfTarget();
        }),
        new("sender-silent", Both, (rig, mild) =>
        {
            long gap = (rig.Protocol == UniverseProtocol.Sacn ? (mild ? 3 : 6) : 12) * Second;
            rig.Stream.Plan = rig.Stream.Plan with { Restarts = [new SenderRestart(8 * Second, gap, 1)] };
            rig.ComplainOfTarget();
        }),
        new("stream-ended", Sacn, (rig, mild) =>
        {
            rig.Stream.Plan = rig.Stream.Plan with { Stop = (mild ? 20 : 8) * Second };
            rig.Stream.Terminates = true;
            rig.ComplainOfTarget();
        }),
        new("sequence-stuck", Both, (rig, mild) =>
        {
            rig.Stream.Sequence = (index, _) => mild && index < 10 ? 7 + index : 17;
            rig.ComplainOfTarget();
        }),
        new("packets-out-of-order", Both, (rig, mild) =>
        {
            rig.Reorder = mild ? 0.01 : 0.05;
            foreach (FaultStream stream in rig.Main.Streams)
            {
                stream.Plan = stream.Plan with { ConstantRate = true };
            }

            rig.ComplainOfTarget();
        }),
        new("repeated-packets", Both, (rig, mild) =>
        {
            rig.Duplication = mild ? 0.05 : 0.9;
            rig.ComplainOfTarget();
        }),
        new("sender-restarts", Both, (rig, mild) =>
        {
            // At each restart the count falls back by 60: the number of packets tells how often it restarted.
            int every = mild ? 200 : 90;
            rig.Stream.Sequence = (index, _) => 100 + index - (60 * (index / every));
            rig.ComplainOfTarget();
        }),
        new("packet-loss", Both, (rig, mild) =>
        {
            rig.Loss = mild ? 0.02 : 0.12;
            rig.ComplainOfTarget();
        }),
        new("sequence-not-used", ArtNet, (rig, _) =>
        {
            rig.Main.Streams.ForEach(stream => stream.Counted = false);
            rig.ComplainOfTarget();
        }),
        new("slot-count-varies", Both, (rig, mild) =>
        {
            int all = rig.Stream.Plan.SlotCount;
            rig.Stream.SlotCount = index => index % (mild ? 20 : 2) == 1 ? all / 4 * 2 : all;
            rig.ComplainOfTarget();
        }),
        new("rate-above-line", Both, (rig, mild) =>
        {
            rig.Stream.Plan = rig.Stream.Plan with { ConstantRate = true, SlotCount = 512, Tick = mild ? 18 * Millisecond : 10 * Millisecond };
            rig.ComplainOfTarget();
        }),
        new("priority-over-200", Sacn, (rig, mild) =>
        {
            rig.Stream.Priority = _ => mild ? 201 : 255;
            rig.ComplainOfTarget();
        }),
        new("wrong-multicast-group", Sacn, (rig, mild) =>
        {
            rig.Stream.To = null;
            rig.Stream.Group = rig.Stream.Universe.Number + (mild ? 1 : 256);
            rig.ComplainOfTarget();
        }),
        new("reserved-universe", Sacn, (rig, mild) =>
        {
            FaultStream odd = rig.Another("test tool");
            odd.Universe = new UniverseId(UniverseProtocol.Sacn, mild ? 64_000 : 65_000);
            odd.To = rig.Gateway;
            rig.ComplainOfTarget();
        }),
        new("discarded-by-receivers", Sacn, (rig, mild) =>
        {
            rig.Stream.Payload = (payload, index) =>
            {
                if (!mild || index % 3 == 0)
                {
                    payload[SacnAddressType] = 0xA2;
                }

                return payload;
            };
            rig.ComplainOfTarget();
        }),
        new("draft-layout", Sacn, (rig, _) =>
        {
            rig.Stream.Draft = true;
            rig.ComplainOfTarget();
        }),
        new("preview-data", Sacn, (rig, _) =>
        {
            rig.Stream.Options = SacnPackets.PreviewData;
            rig.ComplainOfTarget();
        }),
        new("sync-address-wrong", Sacn, (rig, mild) =>
        {
            rig.Stream.To = rig.Gateway;
            rig.Stream.SyncPacketAddress = mild ? 0 : 64_500;
            rig.ComplainOfTarget();
        }),
        new("per-address-priority", Sacn, (rig, mild) =>
        {
            byte[] priorities = [.. Enumerable.Repeat((byte)100, 512)];
            rig.Stream.Plan = rig.Stream.Plan with { Alternates = [new AlternatePacket(0xDD, priorities)], AlternateEvery = (mild ? 3 : 1) * Second };
            rig.ComplainOfTarget();
        }),
        new("alternate-start-code", Both, (rig, mild) =>
        {
            rig.Stream.Plan = rig.Stream.Plan with { Alternates = [new AlternatePacket(0x17, [1, 2, 3, 4])], AlternateEvery = (mild ? 2_000 : 100) * Millisecond };
            rig.ComplainOfTarget();
        }),
        new("art-net-length", ArtNet, (rig, mild) =>
        {
            rig.Stream.Payload = (payload, index) =>
            {
                if (!mild || index % 5 == 0)
                {
                    payload[ArtNetLength] = 2;
                    payload[ArtNetLength + 1] = 2;
                }

                return payload;
            };
            rig.ComplainOfTarget();
        }),
        new("odd-poll-reply", ArtNet, (rig, mild) =>
        {
            Node(rig, reply => mild ? reply with { Length = 213 } : reply with { StatedPort = 13_849 });
            rig.ComplainOfTarget();
        }),
        new("malformed-packets", Both, (rig, mild) =>
        {
            rig.Stream.Payload = (payload, index) => index % (mild ? 50 : 4) == 3 ? payload[..(rig.Protocol == UniverseProtocol.Sacn ? 100 : 15)] : payload;
            rig.ComplainOfTarget();
        }),
        new("fragmented-packets", Both, (rig, mild) =>
        {
            rig.Stream.Frame = (frame, index) =>
            {
                if (index % (mild ? 50 : 4) == 3)
                {
                    frame[IpFlags] = 0x20;
                }

                return frame;
            };
            rig.ComplainOfTarget();
        }),
        new("universe-not-sent", Both, (rig, _) =>
        {
            rig.Main.Streams.Remove(rig.Stream);
            rig.ComplainOfTarget();
        }),
        new("universe-numbers-shifted", Sacn, (rig, mild) =>
        {
            int off = mild ? 1 : rig.Random.Chance(0.5) ? 16 : 256;
            foreach (FaultStream stream in rig.Main.Streams)
            {
                stream.Universe = new UniverseId(UniverseProtocol.Sacn, stream.Universe.Number + off);
            }

            rig.Complain(rig.Units.Take(4));
        })
        {
            HidesOthers = true,
        },
        new("beyond-slots-sent", Both, (rig, mild) =>
        {
            PatchUnit last = rig.TargetUnits[mild ? ^1 : ^3];
            rig.Stream.Plan = rig.Stream.Plan with { SlotCount = Math.Max(2, (last.Address - 1) / 2 * 2) };
            rig.Complain(rig.TargetUnits.Where(unit => unit.Address >= last.Address));
        }),
        new("held-at-controller", Both, (rig, mild) =>
        {
            PatchUnit[] held = [.. rig.TargetUnits.Take(mild ? 1 : 2)];
            foreach (PatchUnit unit in held)
            {
                int level = (int)rig.Random.Next(60, 200);
                rig.Show.Otherwise[unit] = (_, slots) => Lit(rig, unit, slots, (byte)level);
            }

            rig.Complain(held);
        }),
        new("universe-stands-still", Both, (rig, _) =>
        {
            rig.Stream.Plan = Frozen(rig.Stream.Plan);
            rig.ComplainOfTarget();
        }),
        new("universe-at-zero", Both, (rig, _) =>
        {
            rig.Stream.Plan = rig.Stream.Plan with { Levels = Levels.Constant() };
            rig.ComplainOfTarget();
        }),
        new("old-source-left-on", Sacn, (rig, mild) =>
        {
            FaultStream old = rig.Another("old laptop", Snapshot(rig.Stream.Plan.Levels));
            old.Priority = _ => mild ? 101 : 180;
            old.Plan = old.Plan with { ConstantRate = false, Repeats = 0 };
            rig.ComplainOfTarget();
        }),
        new("overridden-by-priority", Sacn, (rig, mild) =>
        {
            // The one above moves everything but the units complained of, which only the one below moves.
            PatchUnit[] units = [.. rig.TargetUnits.Take(mild ? 1 : 3)];
            FaultShow show = new([.. rig.Units], rig.Charts, rig.Seed + 5);
            foreach (PatchUnit unit in units)
            {
                show.Otherwise[unit] = (_, slots) => Lit(rig, unit, slots, 120);
            }

            rig.Another("guest controller", show.Of(rig.Target)).Priority = _ => mild ? 101 : 150;
            rig.Complain(units);
        }),
        new("merge-surprise", ArtNet, (rig, _) =>
        {
            Node(rig, reply => reply with { GoodOutputA = 0x88 });
            rig.ComplainOfTarget();
        }),
        new("no-device-outputs", ArtNet, (rig, mild) =>
        {
            int own = rig.Wire(rig.Target).Number;
            Node(rig, reply => reply with { PortAddress = mild ? (own + 1) % FaultRig.Universes : own + 16 });
            rig.ComplainOfTarget();
        }),
        new("art-net-broadcast", ArtNet, (rig, _) =>
        {
            rig.Main.Streams.ForEach(stream => stream.To = null);
            rig.ComplainOfTarget();
        }),
        new("refresh-slow-on-network", Both, (rig, mild) =>
        {
            rig.Stream.Plan = rig.Stream.Plan with { ConstantRate = true, Tick = (mild ? 85 : 125) * Millisecond };
            rig.ComplainOfTarget();
        }),
        new("no-levels", ArtNet, (rig, _) =>
        {
            // The controller polls and outputs nothing.
            foreach (FaultStream stream in rig.Main.Streams)
            {
                stream.Plan = stream.Plan with { Start = long.MaxValue / 2, Stop = 0 };
            }

            rig.ComplainOfTarget();
        })
        {
            HidesOthers = true,
        },
    ];

    /// <summary>A unit lit at a level and standing still.</summary>
    internal static void Lit(FaultRig rig, PatchUnit unit, Span<byte> slots, byte level)
    {
        slots.Clear();
        foreach (DmxProbe.Fixtures.Charts.ChartSlot slot in rig.Charts.Find(unit.Type, unit.Mode)!.Slots)
        {
            slots[slot.Slot - 1] = slot.Role switch
            {
                DmxProbe.Fixtures.Charts.SlotRole.Intensity or DmxProbe.Fixtures.Charts.SlotRole.Red or DmxProbe.Fixtures.Charts.SlotRole.Green or DmxProbe.Fixtures.Charts.SlotRole.White => level,
                DmxProbe.Fixtures.Charts.SlotRole.Beam or DmxProbe.Fixtures.Charts.SlotRole.Position => 128,
                _ => 0,
            };
        }
    }

    private static StreamPlan Frozen(StreamPlan plan) => plan with { Levels = Snapshot(plan.Levels) };

    private static LevelSource Snapshot(LevelSource levels) => (_, slots) => levels(5 * Second, slots);

    private static void Node(FaultRig rig, Func<ArtPollReplyFields, ArtPollReplyFields> odd)
    {
        ArtPollReplyFields reply = new()
        {
            Address = rig.Gateway.Ipv4,
            PortAddress = rig.Wire(rig.Target).Number,
            PortName = "gateway",
            LongName = "gateway",
        };
        // The other universes go to another device, which does not answer.
        foreach (FaultStream stream in rig.Main.Streams.Where(stream => stream != rig.Stream))
        {
            stream.To = Host.At("other gateway", "10.0.0.22");
        }

        rig.Others.Add(new ArtNetNode("gateway", rig.Gateway, odd(reply)) { Pollers = [rig.Main] });
    }
}
