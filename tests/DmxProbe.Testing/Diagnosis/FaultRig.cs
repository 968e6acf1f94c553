using System.Globalization;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Diagnosis;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Network;
using DmxProbe.Testing.Network.Packets;

namespace DmxProbe.Testing.Diagnosis;

/// <summary>A healthy rig of a random shape, open to have something put wrong with it; then captured and made a case.</summary>
public sealed class FaultRig
{
    /// <summary>Universes of the sheet.</summary>
    public const int Universes = 3;

    private const long Second = 1_000_000_000;
    private SimulatedCapture? _captured;
    private LocatedUnit? _located;

    /// <summary>Draws a rig.</summary>
    /// <param name="seed">The same seed gives the same rig.</param>
    /// <param name="protocol">sACN or Art-Net.</param>
    public FaultRig(ulong seed, UniverseProtocol protocol)
    {
        Seed = seed;
        Random = SeededRandom.For(seed, 7);
        Protocol = protocol;
        Charts = FaultCharts.All;
        Units = Patch();
        Show = new FaultShow([.. Units], Charts, seed);
        Main = new FaultSender("main controller", Host.At("main controller", "10.0.0.10"), SacnPackets.Cid("6b1d2f4e-0c51-4f7a-9d21-3a5e84c7b901"));
        Gateway = Host.At("gateway", "10.0.0.21");
        bool constant = Random.Chance(0.5), unicast = Random.Chance(0.5) || protocol == UniverseProtocol.ArtNet;
        long tick = Random.Next(22_800_000, 36_000_000);
        int slots = Random.Chance(0.6) ? 512 : (LastSlot() + 1) / 2 * 2;
        for (int universe = 1; universe <= Universes; universe++)
        {
            Main.Streams.Add(new FaultStream
            {
                Universe = Wire(universe),
                Plan = new StreamPlan { Levels = Show.Of(universe), ConstantRate = constant, Tick = tick, SlotCount = slots },
                To = unicast ? Gateway : null,
            });
        }

        Jitter = Random.Next(0, 3_000_000);
        if (Random.Chance(0.2) && protocol == UniverseProtocol.Sacn)
        {
            Main.Streams.ForEach(stream => stream.SyncAddress = 900);
        }

        // A neighbour's universe, which is on no sheet of ours.
        if (Random.Chance(0.3))
        {
            FaultSender neighbour = new("the hall next door", Host.At("the hall next door", "10.0.0.200"), SacnPackets.Cid("0c7a5f10-5b1e-4c63-8a57-000000000077")) { Polls = false };
            neighbour.Streams.Add(new FaultStream { Universe = new UniverseId(protocol, 77), Plan = new StreamPlan { Levels = Levels.Triangle(7_000_000_000) }, To = Host.At("their gateway", "10.0.0.201") });
            Others.Add(neighbour);
        }
    }

    /// <summary>Its seed.</summary>
    public ulong Seed { get; }

    /// <summary>Numbers for whoever puts something wrong.</summary>
    public SeededRandom Random { get; }

    /// <summary>sACN or Art-Net.</summary>
    public UniverseProtocol Protocol { get; }

    /// <summary>The charts.</summary>
    public ChartSet Charts { get; set; }

    /// <summary>The units of the sheet.</summary>
    public List<PatchUnit> Units { get; }

    /// <summary>What is played.</summary>
    public FaultShow Show { get; }

    /// <summary>The controller.</summary>
    public FaultSender Main { get; }

    /// <summary>Other senders and devices.</summary>
    public List<SimulatedSender> Others { get; } = [];

    /// <summary>Where unicast goes.</summary>
    public Host Gateway { get; }

    /// <summary>The units people complain about.</summary>
    public List<string> Bad { get; } = [];

    /// <summary>The universe of the sheet that the next fault is about.</summary>
    public int Target { get; set; } = 1;

    /// <summary>Share of packets lost.</summary>
    public double Loss { get; set; }

    /// <summary>Share of packets that come late.</summary>
    public double Reorder { get; set; }

    /// <summary>Share of packets that come twice.</summary>
    public double Duplication { get; set; }

    /// <summary>Most time on the way beyond the least, ns.</summary>
    public long Jitter { get; set; }

    /// <summary>Length of the capture, ns.</summary>
    public long Length { get; set; } = 30 * Second;

    /// <summary>Number on the wire for a universe of the sheet, if not the usual one.</summary>
    public Dictionary<int, UniverseId> Rewired { get; } = [];

    /// <summary>The line that is recorded instead of the network; null for a network capture.</summary>
    public FaultLine? Line { get; set; }

    /// <summary>What the light of a unit really follows; null where nobody looked at a light.</summary>
    public LightFault? Light { get; set; }

    /// <summary>What locating made of that light; null before <see cref="See()"/>.</summary>
    public LocatedUnit? Located => _located;

    /// <summary>The stream of the target universe.</summary>
    public FaultStream Stream => Main.Streams.First(stream => stream.Universe == Wire(Target));

    /// <summary>The units of the target universe, by address.</summary>
    public IReadOnlyList<PatchUnit> TargetUnits => [.. Units.Where(unit => unit.Universe == Target).OrderBy(unit => unit.Address)];

    /// <summary>A universe of the sheet on the wire.</summary>
    public UniverseId Wire(int sheetUniverse) => Rewired.TryGetValue(sheetUniverse, out UniverseId id) ? id
        : new UniverseId(Protocol, Protocol == UniverseProtocol.Sacn ? sheetUniverse : sheetUniverse - 1);

    /// <summary>People complain about these units.</summary>
    public void Complain(IEnumerable<PatchUnit> units) => Bad.AddRange(units.Select(unit => unit.Unit).Where(name => !Bad.Contains(name)));

    /// <summary>People complain about up to four units of the target universe.</summary>
    public void ComplainOfTarget() => Complain(TargetUnits.Take(4));

    /// <summary>Changes a unit of the sheet.</summary>
    public void Change(PatchUnit unit, PatchUnit to) => Units[Units.IndexOf(unit)] = to;

    /// <summary>A unit of the target universe that has a function of a role.</summary>
    /// <param name="role">The role.</param>
    /// <param name="effect">What a range of it must do; null: anything.</param>
    public PatchUnit? UnitWith(SlotRole role, RangeEffect? effect = null)
    {
        PatchUnit[] able = [.. TargetUnits.Where(unit => Charts.Find(unit.Type, unit.Mode)!.Slots.Any(slot => slot.Role == role && (effect is null || slot.Ranges.Any(range => range.Effect == effect))))];
        return able.Length == 0 ? null : able[Random.Next(0, able.Length)];
    }

    /// <summary>Another sender of the target universe, at work.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="levels">What it sends; null: a show of its own.</param>
    /// <param name="cid">Its CID; null: one of its own.</param>
    public FaultStream Another(string name, LevelSource? levels = null, byte[]? cid = null)
    {
        byte[] own = SacnPackets.Cid("d9a0463c-7e18-4b52-8f60-19c2b7704ae5");
        own[15] = (byte)(Others.Count + 1);
        FaultSender sender = new(name, Host.At(name, FormattableString.Invariant($"10.0.0.{80 + Others.Count}")), cid ?? own) { Polls = false };
        FaultStream stream = new()
        {
            Universe = Wire(Target),
            Plan = Stream.Plan with { Levels = levels ?? new FaultShow([.. Units], Charts, Seed + 99 + (ulong)Others.Count).Of(Target) },
            To = Stream.To,
        };
        sender.Streams.Add(stream);
        Others.Add(sender);
        return stream;
    }

    /// <summary>Captures it and puts the case together.</summary>
    public DiagnosisCase Case()
    {
        using ICaptureSource source = Line is { } line ? line.Record(this) : Captured().ToSource();
        PatchSheet sheet = new(Units);
        return DiagnosisReader.Read(source, new DiagnosisAsked
        {
            Sheet = sheet,
            Charts = Charts,
            Bad = Bad,
            Located = _located is { } located ? [located] : [],
            // A person says which universe is which where the numbers leave it open, as on any Art-Net rig of several.
            MayBe = number => [Usual(number)],
            Map = captured => (sheet.Universes.Where(number => Protocol == UniverseProtocol.ArtNet || captured.Contains(Usual(number))).ToDictionary(number => number, Usual), []),
        }, line: null, CancellationToken.None);
    }

    /// <summary>Looks at the light of <see cref="Light"/> and locates it.</summary>
    /// <exception cref="InvalidOperationException">It can tell nothing.</exception>
    public void See() => _located = Light is { } fault ? FaultLight.Locate(this, fault, Captured()) : null;

    /// <summary>States what locating made of a light.</summary>
    public void See(LocatedUnit located)
    {
        _ = Captured();
        _located = located;
    }

    /// <summary>A universe of the sheet on the wire where nothing is rewired.</summary>
    internal UniverseId Usual(int number) => new(Protocol, Protocol == UniverseProtocol.Sacn ? number : number - 1);

    // A light was seen while this capture ran: the case is of the same one.
    private SimulatedCapture Captured() => _located is null ? _captured = Network().Run(Length) : _captured!;

    private SimulatedNetwork Network()
    {
        SimulatedNetwork network = new SimulatedNetwork(Seed) { Loss = Loss, Reorder = Reorder, Duplication = Duplication, Jitter = Jitter }.Add(Main);
        foreach (SimulatedSender other in Others)
        {
            network.Add(other);
        }

        return network;
    }

    private int LastSlot() => Units.Max(unit => unit.Address + PatchCheck.FootprintOf(unit, Charts) - 1);

    private List<PatchUnit> Patch()
    {
        List<PatchUnit> units = [];
        (string Type, string Mode)[] types = [("wash", "10 slot"), ("head", "14 slot"), ("dimmer", "1 slot"), ("wash", "6 slot")];
        for (int universe = 1; universe <= Universes; universe++)
        {
            int address = (int)Random.Next(1, 12);
            int number = 0;
            // Every universe has the types that unit faults need, in a random order of groups.
            foreach ((string type, string mode) in types.OrderBy(_ => Random.NextBits()))
            {
                int count = (int)Random.Next(2, 5);
                int spacing = Charts.FootprintOf(type, mode) + (int)Random.Next(0, 4);
                for (int i = 0; i < count; i++)
                {
                    number++;
                    units.Add(new PatchUnit(string.Create(CultureInfo.InvariantCulture, $"U{universe}-{number}"), type, mode, universe, address, "bar " + universe, "chain " + universe, "C" + universe, [], "", units.Count + 2) { ChainOrder = number });
                    address += spacing;
                }
            }
        }

        return units;
    }
}
