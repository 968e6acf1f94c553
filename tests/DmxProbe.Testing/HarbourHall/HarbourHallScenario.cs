using System.Net;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Network;
using DmxProbe.Testing.Network.Packets;

namespace DmxProbe.Testing.HarbourHall;

/// <summary>
/// Sixty seconds of soundcheck at Harbour Hall: the main controller unicasts Art-Net to the gateway "stage left" and
/// multicasts sACN 2 and 3; a mirror port sees it all.
/// </summary>
public static class HarbourHallScenario
{
    /// <summary>Length in nanoseconds.</summary>
    public const long Length = 60_000_000_000;

    /// <summary>Name of the main controller.</summary>
    public const string MainController = "main controller";

    /// <summary>Name of the laptop that should not be there.</summary>
    public const string OldLaptop = "old laptop";

    private const ulong Seed = 20_260_314;

    /// <summary>2026-03-14 19:41:00 UTC.</summary>
    public static Timestamp Start { get; } = Timestamp.FromUnixNanoseconds(1_773_517_260_000_000_000);

    /// <summary>Universe 1 of the sheet on the wire.</summary>
    public static UniverseId UniverseOne { get; } = new(UniverseProtocol.ArtNet, 0);

    /// <summary>CID of the main controller.</summary>
    public static byte[] MainCid { get; } = SacnPackets.Cid("6b1d2f4e-0c51-4f7a-9d21-3a5e84c7b901");

    /// <summary>CID of the old laptop.</summary>
    public static byte[] OldLaptopCid { get; } = SacnPackets.Cid("d9a0463c-7e18-4b52-8f60-19c2b7704ae5");

    /// <summary>Builds the capture.</summary>
    /// <param name="faults">What is wrong; <see cref="HarbourHallFaults.DigitsSwapped"/> changes only the light.</param>
    public static SimulatedCapture Capture(HarbourHallFaults faults)
    {
        Host controller = Host.At(MainController, "10.20.0.10");
        Host gateway = Host.At("stage left", "10.20.0.21");
        CuePlayer show = Show();
        ArtNetController artNet = new(MainController, controller)
        {
            Broadcast = IPAddress.Parse("10.20.255.255"),
            Outputs =
            [
                new ArtNetOutput
                {
                    PortAddress = 0, To = gateway, Levels = (time, slots) => show.Fill(1, time, slots), FirstSequence = 201,
                },
            ],
        };
        ArtPollReplyFields reply = new()
        {
            Address = gateway.Ipv4,
            PortName = "stage left A",
            LongName = "stage left gateway",
            NodeReport = "#0001 [0042] output running",
        };
        SacnSource sacn = new(MainController, controller, MainCid)
        {
            Streams =
            [
                new SacnStream { Universe = 2, Levels = (time, slots) => show.Fill(2, time, slots), FirstSequence = 77 },
                new SacnStream { Universe = 3, Levels = (time, slots) => show.Fill(3, time, slots), FirstSequence = 140 },
            ],
        };
        SimulatedNetwork network = new SimulatedNetwork(Seed) { Start = Start, Jitter = 60_000 }
            .Add(artNet)
            .Add(sacn)
            .Add(new ArtNetNode("stage left", gateway, reply) { Pollers = [artNet] });
        if (faults.HasFlag(HarbourHallFaults.OldLaptop))
        {
            network.Add(Laptop());
        }

        return network.Run(Length);
    }

    /// <summary>The address that LX1-6 really reads.</summary>
    public static int AddressReadByLx16(HarbourHallFaults faults) =>
        faults.HasFlag(HarbourHallFaults.DigitsSwapped) ? HarbourRig.SwappedAddress : HarbourRig.SheetAddress;

    /// <summary>The show as the main controller plays it.</summary>
    internal static CuePlayer Show() => new(HarbourRig.Units, HarbourCues.Preset, HarbourCues.List);

    /// <summary>A look of last week, kept alive since somebody left it running.</summary>
    private static SacnSource Laptop()
    {
        Cue look = new(
            0, 0, "last week",
            "LX2: pan 20000, tilt 30000, dimmer 12000, red 255, zoom 60", "LX3: dimmer 70, red 255, green 120, zoom 90");
        CuePlayer old = new(HarbourRig.Units, look, []);
        return new SacnSource(OldLaptop, Host.At(OldLaptop, "10.20.0.77"), OldLaptopCid)
        {
            Streams =
            [
                new SacnStream
                {
                    Universe = 2, Levels = (time, slots) => old.Fill(2, time, slots), FirstSequence = 9, Repeats = 0,
                },
            ],
        };
    }
}
