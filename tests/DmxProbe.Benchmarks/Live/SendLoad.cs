using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Sockets;
using DmxProbe.Testing.Network.Packets;

namespace DmxProbe.Benchmarks.Live;

/// <summary>
/// Sends sACN on the loopback interface, or through the one whose address is named, in bursts, a frame of every universe at once, as controllers do. A process of its own,
/// so that what it costs is not counted as the listener's. Prints how many datagrams it sent.
/// </summary>
internal static class SendLoad
{
    private const int SequenceAt = 111;

    public static int Run(string[] args)
    {
        int universes = int.Parse(args[0], CultureInfo.InvariantCulture);
        double hertz = double.Parse(args[1], CultureInfo.InvariantCulture);
        double seconds = double.Parse(args[2], CultureInfo.InvariantCulture);
        IPAddress through = args.Length > 3 ? IPAddress.Parse(args[3]) : IPAddress.Loopback;
        using Socket socket = new(AddressFamily.InterNetwork, SocketType.Dgram, ProtocolType.Udp);
        socket.SendBufferSize = 4 * 1024 * 1024;
        socket.SetSocketOption(SocketOptionLevel.IP, SocketOptionName.MulticastInterface, through.GetAddressBytes());
        byte[] cid = SacnPackets.Cid("11111111-2222-3333-4444-555555555555");
        (byte[] Packet, SocketAddress To)[] streams =
        [
            .. Enumerable.Range(1, universes).Select(universe => (
                SacnPackets.Data(cid, "load", universe, 0, new byte[512]),
                new IPEndPoint(IPAddress.Parse($"239.255.{universe >> 8}.{universe & 255}"), SacnPackets.Port).Serialize())),
        ];
        long sent = 0;
        Stopwatch clock = Stopwatch.StartNew();
        for (int frame = 0; clock.Elapsed.TotalSeconds < seconds; frame++)
        {
            foreach ((byte[] packet, SocketAddress to) in streams)
            {
                packet[SequenceAt] = (byte)(frame & 255);
                sent += Send(socket, packet, to) ? 1 : 0;
            }

            double due = (frame + 1) / hertz;
            double left = due - clock.Elapsed.TotalSeconds;
            if (left > 0.001)
            {
                Thread.Sleep(TimeSpan.FromSeconds(left));
            }
        }

        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{sent} {clock.Elapsed.TotalSeconds:0.000}"));
        return 0;
    }

    // The interface may be gone just now: a controller goes on sending all the same.
    private static bool Send(Socket socket, byte[] packet, SocketAddress to)
    {
        try
        {
            return socket.SendTo(packet, SocketFlags.None, to) > 0;
        }
        catch (SocketException)
        {
            return false;
        }
    }
}
