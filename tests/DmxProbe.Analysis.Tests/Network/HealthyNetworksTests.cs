using System.Net;
using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Survey;
using DmxProbe.Testing.Network;
using DmxProbe.Testing.Network.Packets;

namespace DmxProbe.Analysis.Tests.Network;

/// <summary>
/// Forty healthy networks, each with other rates, slot counts, universes, priorities, synchronization, IP versions and
/// protocols: none may give a fault or a warning, whatever it tells.
/// </summary>
public class HealthyNetworksTests
{
    private const long Second = 1_000_000_000;

    public static TheoryData<int> Seeds => [.. Enumerable.Range(1, 40)];

    [Theory]
    [MemberData(nameof(Seeds))]
    public void A_healthy_network_gives_no_fault_and_no_warning(int seed)
    {
        // Whoever watches live is told findings all the while: none may come early either.
        foreach (int seconds in new[] { 3, 9, 17, 20 + (seed % 5 * 10) })
        {
            Judge(seed, seconds);
        }
    }

    private static void Judge(int seed, int seconds)
    {
        SimulatedCapture capture = Network(seed).Run(seconds * Second);
        using SimulatedSource source = capture.ToSource();

        SurveySnapshot survey = Surveyor.Run(source, default);

        Assert.NotEmpty(survey.Universes);
        Assert.Empty(survey.Findings.Where(finding => finding.Severity != Severity.Info).Select(finding => $"{finding.Id}: {finding.Text}"));

        // Nothing of a network that keeps the rules is told as a broken rule either.
        Assert.DoesNotContain(
            survey.Findings,
            finding => finding.Id.StartsWith("sacn-", StringComparison.Ordinal) || finding.Id is "packets-captured-twice" or "repeats-before-keep-alive");
    }

    private static SimulatedNetwork Network(int seed)
    {
        SeededRandom random = SeededRandom.For((ulong)seed, 17);
        bool synced = seed % 4 == 0;
        SimulatedNetwork network = new((ulong)seed) { Jitter = random.Next(0, 3_000_000) };
        network.Add(new SacnSource("main", Host.At("main", "10.20.0.10"), Wire.Cid)
        {
            DualStack = seed % 5 == 0,
            Discovers = seed % 3 != 0,
            Streams =
            [
                .. Enumerable.Range(1, 1 + (seed % 6)).Select(universe => new SacnStream
                {
                    Universe = universe * (1 + (seed % 7)),
                    Levels = Play(random, universe),
                    SlotCount = seed % 6 == 1 ? 24 : 512,
                    ConstantRate = seed % 2 == 0,
                    Tick = random.Next(22_800_000, 40_000_000),
                    Priority = 100 + (seed % 3 * 50),
                    SyncAddress = synced ? 600 : 0,
                    Options = synced && seed % 8 == 0 ? 0x20 : 0,
                    FirstSequence = (int)random.Next(0, 256),
                    Stop = seed % 9 == 0 && universe == 1 ? 12 * Second : null,
                    Alternates = seed % 10 == 3 ? [new AlternatePacket(0xDD, Enumerable.Repeat((byte)100, 512).ToArray())] : [],
                }),
            ],
        });
        if (seed % 3 == 1)
        {
            // A backup below: conforming.
            network.Add(new SacnSource("backup", Host.At("backup", "10.20.0.11"), Wire.OtherCid)
            {
                Discovers = seed % 3 != 0,
                Streams = [new SacnStream { Universe = 1 + (seed % 7), Levels = Levels.Constant(9), Priority = 50 }],
            });
        }

        if (seed % 2 == 1)
        {
            ArtNetController controller = new("controller", Host.At("controller", "10.20.0.30"))
            {
                Syncs = seed % 4 == 1,
                Outputs =
                [
                    new ArtNetOutput { PortAddress = seed, To = Wire.Gateway, Levels = Play(random, 3), Counted = seed % 8 != 7, SlotCount = 2 * (int)random.Next(1, 257) },
                ],
            };
            network.Add(controller).Add(new ArtNetNode(
                "gateway",
                Wire.Gateway,
                new ArtPollReplyFields { Address = IPAddress.Any, PortAddress = seed, LongName = "gateway" })
            {
                Pollers = [controller],
                Broadcast = seed % 4 == 3 ? new IPAddress([10, 255, 255, 255]) : null,
            });
        }

        return network;
    }

    private static LevelSource Play(SeededRandom random, int universe) => random.Next(0, 3) switch
    {
        0 => Levels.Constant((byte)universe, 2, 3),
        1 => Levels.Triangle(random.Next(2, 9) * Second),
        _ => Levels.Steps((ulong)universe, random.Next(1, 6) * Second),
    };
}
