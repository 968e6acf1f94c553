using System.Buffers.Binary;
using System.Runtime.InteropServices;
using DmxProbe.Protocols.Net;
using static DmxProbe.Capture.Sockets.LinuxNative;

namespace DmxProbe.Capture.Sockets;

/// <summary>How a socket of <see cref="LinuxReceiver"/> is opened, given its buffer, and made a member of groups.</summary>
internal static unsafe class LinuxSocketSetup
{
    /// <summary>The error of the last call in words.</summary>
    public static string LastError => Sentence(Marshal.GetLastPInvokeError());

    /// <summary>An error in words.</summary>
    public static string Sentence(int error) => error switch
    {
        ErrorTooManyFiles => "this program may open no more sockets (see 'ulimit -n')",
        _ => Marshal.GetPInvokeErrorMessage(error),
    };

    /// <summary>Opens a socket that hears only the groups it is a member of, with stamp, interface, destination and drop count.</summary>
    /// <param name="isIpv6">Which protocol.</param>
    /// <param name="port">The port to hear.</param>
    /// <param name="isFirst">Whether it is our first on that port: it shares the port with nobody.</param>
    /// <returns>The descriptor; negative where the system has none, the reason in <see cref="LastError"/>.</returns>
    /// <exception cref="PortTakenException">Another program has the port.</exception>
    public static int Open(bool isIpv6, ushort port, bool isFirst)
    {
        int descriptor = Socket(isIpv6 ? AddressFamilyIpv6 : AddressFamilyIpv4, Datagram | CloseOnExec, 0);
        if (descriptor < 0)
        {
            return -1;
        }

        if (isIpv6)
        {
            Set(descriptor, LevelIpv6, Ipv6Only, 1);
            Set(descriptor, LevelIpv6, Ipv6MulticastAll, 0);
            Set(descriptor, LevelIpv6, Ipv6ReceivePacketInformation, 1);
        }
        else
        {
            Set(descriptor, LevelIpv4, Ipv4MulticastAll, 0);
            Set(descriptor, LevelIpv4, Ipv4PacketInformation, 1);
        }

        Set(descriptor, LevelSocket, TimestampNanoseconds, 1);
        Set(descriptor, LevelSocket, QueueOverflow, 1);

        // The first of a port shares with nobody, so that it fails where another program has the port: sharing would take
        // that program's unicast away. Our own further sockets then share with it.
        if (!isFirst)
        {
            Set(descriptor, LevelSocket, ReuseAddress, 1);
        }

        if (!BindTo(descriptor, isIpv6, port))
        {
            int error = Marshal.GetLastPInvokeError();
            _ = Close(descriptor);
            return error == ErrorAddressInUse ? throw new PortTakenException(port) : -1;
        }

        Set(descriptor, LevelSocket, ReuseAddress, 1);
        return descriptor;
    }

    /// <summary>Asks for a receive buffer and says what was granted, in octets.</summary>
    public static int GrantBuffer(int descriptor, int asked)
    {
        // The first call needs privilege and passes the system's cap; the second does not.
        if (!Set(descriptor, LevelSocket, ReceiveBufferForce, asked))
        {
            Set(descriptor, LevelSocket, ReceiveBuffer, asked);
        }

        int granted;
        uint length = sizeof(int);

        // The kernel doubles what is asked, for its own accounting, and says the double.
        return GetOption(descriptor, LevelSocket, ReceiveBuffer, &granted, &length) == 0 ? granted / 2 : int.MaxValue;
    }

    /// <summary>Makes a socket a member of a group on an interface, or ends that; false where the system refuses.</summary>
    public static bool Member(int descriptor, IpAddress group, int interfaceIndex, bool join)
    {
        byte* request = stackalloc byte[20];
        int length = group.CopyTo(new Span<byte>(request, 16));
        if (group.IsIpv6)
        {
            // struct ipv6_mreq: group, interface.
            *(int*)(request + 16) = interfaceIndex;
            return SetOption(descriptor, LevelIpv6, join ? Ipv6AddMembership : Ipv6DropMembership, request, 20) == 0;
        }

        // struct ip_mreqn: group, local address, interface.
        *(int*)(request + length) = 0;
        *(int*)(request + 8) = interfaceIndex;
        return SetOption(descriptor, LevelIpv4, join ? Ipv4AddMembership : Ipv4DropMembership, request, 12) == 0;
    }

    private static bool BindTo(int descriptor, bool isIpv6, ushort port)
    {
        byte* address = stackalloc byte[28];
        new Span<byte>(address, 28).Clear();
        *(ushort*)address = (ushort)(isIpv6 ? AddressFamilyIpv6 : AddressFamilyIpv4);
        *(ushort*)(address + 2) = BinaryPrimitives.ReverseEndianness(port);
        return Bind(descriptor, address, isIpv6 ? 28u : 16u) == 0;
    }

    private static bool Set(int descriptor, int level, int name, int value) =>
        SetOption(descriptor, level, name, &value, sizeof(int)) == 0;
}
