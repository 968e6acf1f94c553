using DmxProbe.Testing.Network.Packets;

namespace DmxProbe.Testing.Arbitration;

/// <summary>
/// The traffic of captures/arbitration/who-wins.pcapng: two and three senders on one universe under packet priority,
/// per-address priority, synchronization and Art-Net merging. Each universe is a story of its own; the table of
/// WhoWinsTests says what must come of each, with the rule beside it.
/// </summary>
public static class WhoWins
{
    /// <summary>Where the file lies below captures/.</summary>
    public const string File = "arbitration/who-wins.pcapng";

    /// <summary>The synchronization address of the worked example of E1.31-2018 Appendix B.</summary>
    public const int SyncAddress = 7962;

    /// <summary>START code of per-address priorities.</summary>
    public const int AddressPriority = 0xDD;

    private static readonly ScriptSource Main = new(Host.At("Main", "10.20.0.10"), "6b1d2f4e-0c51-4f7a-9d21-3a5e84c7b901");
    private static readonly ScriptSource Backup = new(Host.At("Backup", "10.20.0.11"), "d9a0463c-7e18-4b52-8f60-19c2b7704ae5");
    private static readonly Host A = Host.At("A", "10.20.0.21");
    private static readonly Host B = Host.At("B", "10.20.0.22");
    private static readonly Host C = Host.At("C", "10.20.0.23");
    private static readonly Host Node = Host.At("Node", "10.20.0.30");

    /// <summary>The script.</summary>
    public static TrafficScript Script()
    {
        TrafficScript script = new();
        PacketPriority(script);
        PerAddressPriority(script);
        Synchronization(script, 3, 0);
        Synchronization(script, 4, SacnPackets.ForceSynchronization);
        ShortPackets(script);
        Merge(script);
        ArtSync(script);
        return script;
    }

    // sACN 1: equal, higher, lower priority; silence; termination.
    private static void PacketPriority(TrafficScript script)
    {
        byte[] main = [10, 20, 30, 40];
        byte[] backup = [200, 20, 200, 200];
        script.Every(0, 15, 0.8, (s, t) => s.Sacn(t, Main, 1, main));
        script.Every(2.1, 3.9, 0.6, (s, t) => s.Sacn(t, Backup, 1, backup, priority: 100));
        script.Every(4, 5.8, 0.6, (s, t) => s.Sacn(t, Backup, 1, backup, priority: 150));
        script.Every(6, 7.8, 0.6, (s, t) => s.Sacn(t, Backup, 1, backup, priority: 50));
        script.Every(8, 9, 0.5, (s, t) => s.Sacn(t, Backup, 1, backup, priority: 150));
        script.Every(13, 13.5, 0.5, (s, t) => s.Sacn(t, Backup, 1, backup, priority: 150));
        script.Every(14, 14.2, 0.1, (s, t) => s.Sacn(t, Backup, 1, [0, 0, 0, 0], priority: 150, options: SacnPackets.StreamTerminated));
    }

    // sACN 2: Backup at packet priority 90 takes single slots by START code DDh.
    private static void PerAddressPriority(TrafficScript script)
    {
        byte[] main = [11, 12, 13, 14];
        byte[] backup = [91, 92, 93, 94];
        script.Every(0, 14, 0.8, (s, t) => s.Sacn(t, Main, 2, main));
        script.Every(0.1, 10, 0.9, (s, t) => s.Sacn(t, Backup, 2, backup, priority: 90));
        script.Every(2, 5, 0.75, (s, t) => s.Sacn(t, Backup, 2, [200, 0, 50, 100], priority: 90, startCode: AddressPriority));
        script.Every(9, 14, 0.75, (s, t) => s.Sacn(t, Main, 2, [0, 0, 201, 120], startCode: AddressPriority));
    }

    // sACN 3 and 4: the scenario of standards-facts B11 number 3, the worked example of Appendix B with times of our own.
    private static void Synchronization(TrafficScript script, int universe, int options)
    {
        script.Sacn(0, Main, universe, [1], sync: SyncAddress, options: options);
        script.Sacn(0.10, Main, universe, [2], sync: SyncAddress, options: options);
        script.Sacn(0.12, Main, universe, [3], sync: SyncAddress, options: options);
        script.Every(1.1, 5.0, 0.5, (s, t) => s.Sacn(t, Main, universe, [(byte)(10 * t)], sync: SyncAddress, options: options));
        script.Sacn(5.10, Main, universe, [99], options: options);
        if (universe == 3)
        {
            foreach (double at in new[] { 0.02, 0.14, 0.5, 1.0, 5.0 })
            {
                script.SacnSync(at, Main, SyncAddress);
            }
        }
    }

    // sACN 5: the higher priority sends only two slots.
    private static void ShortPackets(TrafficScript script)
    {
        script.Every(0, 4, 0.8, (s, t) => s.Sacn(t, Main, 5, [1, 2, 3, 4]));
        script.Every(1, 4, 0.8, (s, t) => s.Sacn(t, Backup, 5, [101, 102], priority: 120));
    }

    // Art-Net Port-Address 1: two merged, a third ignored, the mode told and changed, a merge that lets go and one cancelled.
    private static void Merge(TrafficScript script)
    {
        script.Every(0, 30, 1, (s, t) => s.ArtDmx(t, A, Node, 1, [(byte)(t < 7 ? 10 : 11), 200, 50, 0]));
        script.Every(2.1, 8.1, 1, (s, t) => s.ArtDmx(t, B, Node, 1, [100, 100, 50, 0]));
        script.Every(5.5, 30.5, 1, (s, t) => s.ArtDmx(t, C, Node, 1, [255, 255, 255, 255]));
        script.ArtNet(4.2, Node, A, ArtNetPackets.PollReply(new ArtPollReplyFields { Address = Node.Ipv4, PortAddress = 1, PortName = "Node", GoodOutputA = 0x88 }));
        script.ArtNet(6.2, A, Node, Address(0x10));
        script.ArtNet(20.2, A, Node, Address(0x01));
    }

    // Art-Net Port-Address 2: ArtSync.
    private static void ArtSync(TrafficScript script)
    {
        byte level = 0;
        foreach (double at in new[] { 0.05, 0.25, 0.55, 1.05, 4.85, 6.25 })
        {
            script.ArtDmx(at, A, Node, 2, [++level]);
        }

        script.ArtDmx(6.05, B, Node, 2, [2]);
        foreach (double at in new[] { 0.15, 0.45, 0.75, 6.15 })
        {
            script.ArtNet(at, A, Node, ArtNetPackets.Sync());
        }

        script.ArtNet(0.65, B, Node, ArtNetPackets.Sync());
    }

    private static byte[] Address(byte command)
    {
        byte[] body = new byte[95];
        body[1] = 1;
        body[94] = command;
        return ArtNetPackets.Other(0x6000, body);
    }
}
