using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Sockets;

namespace DmxProbe.Testing.Network;

/// <summary>
/// Two network interfaces joined by a virtual cable (veth of Linux), made by the test and removed with it. What is broadcast on
/// one end arrives at the other. Needs root.
/// </summary>
public sealed class VirtualLink : IDisposable
{
    /// <summary>Why tests that need one are skipped elsewhere.</summary>
    public const string NotHere = "needs root, ip and the virtual interfaces of Linux";

    private readonly string _far;
    private readonly string _net;

    private VirtualLink(string near, string far, string net)
    {
        Near = near;
        _far = far;
        _net = net;
    }

    /// <summary>The end to listen on.</summary>
    public string Near { get; }

    /// <summary>Makes one, or null where the system does not let us.</summary>
    public static VirtualLink? TryMake()
    {
        if (!OperatingSystem.IsLinux() || !Environment.IsPrivilegedProcess)
        {
            return null;
        }

        // Names and net of this process: several test runs on one computer stay apart.
        int own = Environment.ProcessId;
        string tail = (own % 100_000).ToString(CultureInfo.InvariantCulture);
        VirtualLink link = new("dpn" + tail, "dpf" + tail, string.Create(CultureInfo.InvariantCulture, $"10.{200 + (own / 250 % 50)}.{own % 250}"));
        return link.Make() ? link : null;
    }

    /// <summary>Makes the two ends, with a link.</summary>
    public bool Make() =>
        Ip("link", "add", Near, "type", "veth", "peer", "name", _far)
        && Ip("addr", "add", _net + ".1/24", "dev", _far)
        && Ip("link", "set", Near, "up")
        && Ip("link", "set", _far, "up");

    /// <summary>Takes the link away, or gives it back.</summary>
    public bool SetLink(bool up) => Ip("link", "set", Near, up ? "up" : "down");

    /// <summary>Removes both ends.</summary>
    public bool Remove() => Ip("link", "del", Near);

    /// <summary>Broadcasts a datagram at the far end; false where there is none just now.</summary>
    public bool Send(ReadOnlySpan<byte> datagram, int port)
    {
        try
        {
            using Socket socket = new(AddressFamily.InterNetwork, SocketType.Dgram, ProtocolType.Udp) { EnableBroadcast = true };
            socket.SendTo(datagram, new IPEndPoint(IPAddress.Parse(_net + ".255"), port));
            return true;
        }
        catch (SocketException)
        {
            return false;
        }
    }

    /// <inheritdoc/>
    public void Dispose() => Remove();

    private static bool Ip(params string[] words)
    {
        try
        {
            using Process process = Process.Start(new ProcessStartInfo("ip", words) { RedirectStandardError = true })!;
            process.StandardError.ReadToEnd();
            process.WaitForExit();
            return process.ExitCode == 0;
        }
        catch (System.ComponentModel.Win32Exception)
        {
            return false;
        }
    }
}
