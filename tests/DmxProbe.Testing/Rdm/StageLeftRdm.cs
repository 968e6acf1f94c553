using System.Buffers.Binary;
using System.Text;
using DmxProbe.Testing.Arbitration;
using DmxProbe.Testing.Line;
using DmxProbe.Testing.Network.Packets;

namespace DmxProbe.Testing.Rdm;

/// <summary>
/// The traffic of captures/rdm/stage-left.pcapng: an RDM controller asks the devices behind the stage-left gateway of Harbour
/// Hall (Art-Net Port-Address 0), three minutes after the soundcheck. One wash is in the wrong mode, one reads 1.016 instead
/// of 1.061, one does not answer, one is on no sheet, one is locked, one leaves the gateway's table and comes back.
/// </summary>
public static class StageLeftRdm
{
    /// <summary>Where the file lies below captures/.</summary>
    public const string File = "rdm/stage-left.pcapng";

    /// <summary>The controller's UID.</summary>
    public const long Controller = 0x7FF0_0000_0001;

    /// <summary>UID of the first wash; the others follow.</summary>
    public const long Wash = 0x7FF0_0000_0101;

    /// <summary>UID of the dimmer rack.</summary>
    public const long Rack = 0x7FF0_0000_0200;

    /// <summary>UID of a device that is on no sheet.</summary>
    public const long Stranger = 0x7FF0_0000_0300;

    private const int TodRequest = 0x8000;
    private const int TodData = 0x8100;
    private const int Message = 0x8300;
    private const int Sub = 0x8400;

    private static readonly Host Asking = Host.At("RDM controller", "10.20.0.12");
    private static readonly Host Gateway = Host.At("stage left", "10.20.0.21");

    /// <summary>The script.</summary>
    public static TrafficScript Script()
    {
        TrafficScript script = new();
        long[] all = [Wash, Wash + 1, Wash + 2, Wash + 3, Wash + 4, Wash + 5, Rack, Stranger];
        script.ArtNet(0.5, Asking, Gateway, ArtNetPackets.Other(TodRequest, [.. new byte[11], 1, .. new byte[32]]));
        Table(script, 0.7, all);
        int[] addresses = [1, 13, 25, 37, 0, 16];
        double at = 1;
        for (int i = 0; i < addresses.Length; i++, at += 0.2)
        {
            byte transaction = (byte)(10 + i);
            Ask(script, at, RdmOctets.Packet(Wash + i, Controller, transaction, 1, 0x20, 0x0060));
            if (addresses[i] > 0)
            {
                bool isSmall = i == 2;
                Answer(script, at + 0.05, RdmOctets.Packet(Controller, Wash + i, transaction, 0, 0x21, 0x0060, Info(isSmall ? 6 : 10, isSmall ? 2 : 1, addresses[i])));
            }
        }

        Ask(script, 2.4, RdmOctets.Packet(Wash + 4, Controller, 20, 1, 0x20, 0x00F0));
        Ask(script, 2.6, RdmOctets.Packet(Wash + 4, Controller, 21, 1, 0x20, 0x00F0));
        Both(script, 3.0, Wash, 30, 0x0082, Encoding.ASCII.GetBytes("LX1-1"));
        Both(script, 3.2, Wash, 31, 0x0120, [0, 0, 0, 0, 1, 0, 1, 0, 2, 5, 0, 2, 0, 2, 6, 0, 3, 0, 2, 7]);
        Both(script, 3.4, Wash, 32, 0x0121, [0, 7, .. Encoding.ASCII.GetBytes("Shutter")]);
        Both(script, 3.6, Wash + 2, 33, 0x00E1, [2, 0, 6, .. Encoding.ASCII.GetBytes("Basic")]);
        Both(script, 3.8, Rack, 34, 0x0080, Encoding.ASCII.GetBytes("6-way dimmer"));
        script.ArtNet(4.0, Gateway, Asking, ArtNetPackets.Other(Sub, Parts(Rack, 101, 102, 103, 104, 105, 106)));
        Both(script, 4.2, Stranger, 35, 0x0060, Info(4, 1, 300));

        // Not yet, then the answer.
        Ask(script, 4.4, RdmOctets.Packet(Wash + 3, Controller, 36, 1, 0x20, 0x0082));
        Answer(script, 4.45, RdmOctets.Packet(Controller, Wash + 3, 36, 1, 0x21, 0x0082, 0, 5));
        Both(script, 5.0, Wash + 3, 37, 0x0082, Encoding.ASCII.GetBytes("LX1-4"));

        // Locked; a message that two devices talk into.
        Ask(script, 5.2, RdmOctets.Packet(Wash + 3, Controller, 38, 1, 0x30, 0x00F0, 0, 61));
        Answer(script, 5.25, RdmOctets.Packet(Controller, Wash + 3, 38, 2, 0x31, 0x00F0, 0, 4));
        byte[] spoilt = RdmOctets.Packet(Controller, Wash + 1, 39, 0, 0x21, 0x0082, Encoding.ASCII.GetBytes("LX1-2"));
        spoilt[26] ^= 0x40;
        Answer(script, 5.6, spoilt);
        Table(script, 6, [.. all.Where(uid => uid != Wash + 1)]);
        Table(script, 8, all);
        return script;
    }

    private static void Table(TrafficScript script, double at, long[] uids)
    {
        byte[] body = new byte[16 + (6 * uids.Length)];
        body[0] = 1;
        body[1] = 1;
        body[8] = 1;
        BinaryPrimitives.WriteUInt16BigEndian(body.AsSpan(12), (ushort)uids.Length);
        body[15] = (byte)uids.Length;
        for (int i = 0; i < uids.Length; i++)
        {
            Uid(body.AsSpan(16 + (6 * i)), uids[i]);
        }

        script.ArtNet(at, Gateway, Asking, ArtNetPackets.Other(TodData, body));
    }

    private static void Both(TrafficScript script, double at, long device, byte transaction, ushort parameter, byte[] data)
    {
        Ask(script, at, RdmOctets.Packet(device, Controller, transaction, 1, 0x20, parameter));
        Answer(script, at + 0.04, RdmOctets.Packet(Controller, device, transaction, 0, 0x21, parameter, data));
    }

    private static void Ask(TrafficScript script, double at, byte[] packet) => script.ArtNet(at, Asking, Gateway, ArtNetPackets.Other(Message, Carried(packet)));

    private static void Answer(TrafficScript script, double at, byte[] packet) => script.ArtNet(at, Gateway, Asking, ArtNetPackets.Other(Message, Carried(packet)));

    // ArtRdm leaves the START code out.
    private static byte[] Carried(byte[] packet) => [1, .. new byte[11], .. packet[1..]];

    private static byte[] Info(int footprint, int personality, int address) =>
        [1, 0, 0, 0x42, 1, 1, 0, 1, 2, 3, 0, (byte)footprint, (byte)personality, 2, (byte)(address >> 8), (byte)(address & 0xFF), 0, 0, 0];

    private static byte[] Parts(long device, params int[] addresses)
    {
        byte[] body = new byte[20 + (2 * addresses.Length)];
        body[0] = 1;
        Uid(body.AsSpan(2), device);
        body[9] = 0x21;
        BinaryPrimitives.WriteUInt16BigEndian(body.AsSpan(10), 0x00F0);
        BinaryPrimitives.WriteUInt16BigEndian(body.AsSpan(12), 1);
        BinaryPrimitives.WriteUInt16BigEndian(body.AsSpan(14), (ushort)addresses.Length);
        for (int i = 0; i < addresses.Length; i++)
        {
            BinaryPrimitives.WriteUInt16BigEndian(body.AsSpan(20 + (2 * i)), (ushort)addresses[i]);
        }

        return body;
    }

    private static void Uid(Span<byte> target, long uid)
    {
        BinaryPrimitives.WriteUInt16BigEndian(target, (ushort)(uid >> 32));
        BinaryPrimitives.WriteUInt32BigEndian(target[2..], (uint)(uid & 0xFFFFFFFF));
    }
}
