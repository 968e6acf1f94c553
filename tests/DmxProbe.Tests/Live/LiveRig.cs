using System.Net;
using System.Net.Sockets;

using DmxProbe.Testing.Network.Packets;

namespace DmxProbe.Tests.Live;

/// <summary>
/// A controller on the loopback interface: sends one Art-Net universe twenty times a second, and puts its slots where a test
/// wants them.
/// </summary>
internal sealed class LiveRig : IDisposable
{
    private const int ArtNetPort = 6454;
    private static readonly TimeSpan Period = TimeSpan.FromMilliseconds(50);

    private readonly byte[] _levels = new byte[512];
    private readonly CancellationTokenSource _stop = new();
    private readonly Thread _thread;

    /// <summary>Begins to send.</summary>
    /// <param name="portAddress">The universe: one that nobody else on this machine is likely to send.</param>
    public LiveRig(int portAddress)
    {
        _thread = new Thread(() => Send(portAddress)) { IsBackground = true, Name = "controller" };
        _thread.Start();
    }

    /// <summary>Puts some slots up and all others down.</summary>
    public void Only(IEnumerable<int> slots, byte level = 255)
    {
        lock (_levels)
        {
            Array.Clear(_levels);
            foreach (int slot in slots)
            {
                _levels[slot - 1] = level;
            }
        }
    }

    /// <summary>The level of a slot now.</summary>
    public byte this[int slot]
    {
        get
        {
            lock (_levels)
            {
                return _levels[slot - 1];
            }
        }

        set
        {
            lock (_levels)
            {
                _levels[slot - 1] = value;
            }
        }
    }

    /// <summary>Waits until what was set has been sent and heard.</summary>
    public static void Settle() => Thread.Sleep(6 * Period);

    public void Dispose()
    {
        _stop.Cancel();
        _thread.Join();
        _stop.Dispose();
    }

    private void Send(int portAddress)
    {
        using Socket socket = new(AddressFamily.InterNetwork, SocketType.Dgram, ProtocolType.Udp);
        IPEndPoint to = new(IPAddress.Loopback, ArtNetPort);
        for (int sequence = 1; !_stop.IsCancellationRequested; sequence = (sequence % 255) + 1)
        {
            byte[] packet;
            lock (_levels)
            {
                packet = ArtNetPackets.Dmx(portAddress, sequence, _levels);
            }

            socket.SendTo(packet, to);
            _stop.Token.WaitHandle.WaitOne(Period);
        }
    }
}
