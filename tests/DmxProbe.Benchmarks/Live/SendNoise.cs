using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Sockets;

namespace DmxProbe.Benchmarks.Live;

/// <summary>Sends random octets to both lighting ports of the loopback interface as fast as it goes; prints how many datagrams.</summary>
internal static class SendNoise
{
    private const int Seed = 20_261;

    public static int Run(string[] args)
    {
        double seconds = double.Parse(args[0], CultureInfo.InvariantCulture);
        using Socket socket = new(AddressFamily.InterNetwork, SocketType.Dgram, ProtocolType.Udp);
        SocketAddress[] ports = [new IPEndPoint(IPAddress.Loopback, 6454).Serialize(), new IPEndPoint(IPAddress.Loopback, 5568).Serialize()];
        Random random = new(Seed);
        byte[] noise = new byte[64 * 1024];
        random.NextBytes(noise);
        byte[][] beginnings = [[], [.. "Art-Net\0"u8], [0, 16, 0, 0, .. "ASC-E1.17\0\0\0"u8]];
        byte[] packet = new byte[1472];
        long sent = 0;
        Stopwatch clock = Stopwatch.StartNew();
        while (clock.Elapsed.TotalSeconds < seconds)
        {
            for (int i = 0; i < 256; i++)
            {
                int length = random.Next(1, packet.Length);
                noise.AsSpan(random.Next(noise.Length - length), length).CopyTo(packet);
                byte[] beginning = beginnings[random.Next(3)];
                beginning.AsSpan(0, Math.Min(length, beginning.Length)).CopyTo(packet);
                sent += socket.SendTo(packet.AsSpan(0, length), SocketFlags.None, ports[i & 1]) > 0 ? 1 : 0;
            }
        }

        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{sent} {clock.Elapsed.TotalSeconds:0.000}"));
        return 0;
    }
}
