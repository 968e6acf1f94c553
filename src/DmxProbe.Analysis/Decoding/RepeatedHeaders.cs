using System.Buffers.Binary;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using DmxProbe.Protocols.ArtNet;
using DmxProbe.Protocols.Records;
using DmxProbe.Protocols.Sacn;

namespace DmxProbe.Analysis.Decoding;

/// <summary>
/// The short way for nearly every packet of a show: its headers are those of the packet before it on its stream, octet for
/// octet, but for IP identification, checksums and sequence number. Whatever was found out about that one holds again, so
/// only the frame is made. Any other packet goes the long way, which has to say <see cref="Forget"/> before it changes
/// anything about a stream, and <see cref="Learn"/> where the packet broke no rule and hid nothing.
/// </summary>
internal sealed class RepeatedHeaders(StreamTable streams)
{
    // Of an Ethernet frame with IPv4 and UDP and no options anywhere.
    private const int EtherTypeAt = 12;
    private const int VersionAt = 14;
    private const int IdentificationAt = 18;
    private const int SourceAt = 26;
    private const int DestinationPortAt = 36;
    private const int UdpLengthAt = 38;
    private const int UdpChecksumAt = 40;
    private const int PayloadAt = 42;
    private const int SacnSequenceAt = PayloadAt + 111;
    private const int SacnUniverseAt = PayloadAt + 113;
    private const int SacnHeaders = PayloadAt + SacnDataPacket.HeaderLength;
    private const int ArtNetSequenceAt = PayloadAt + 12;
    private const int ArtNetPortAddressAt = PayloadAt + 14;
    private const int ArtNetHeaders = PayloadAt + ArtDmxPacket.HeaderLength;
    private const ushort PlainIpv4 = 0x0800;
    private const byte VersionAndLength = 0x45;

    // A source may rename itself and a name may be damaged: the long way looks at it in one of 64 packets.
    private const int NameEvery = 64;

    private const ulong PrintOfPacket = 0xFFFFFFFF00000000;
    private const int Places = 16384;
    private const uint HostSpread = 1009;

    private readonly PerIndex<Entry> _entries = new();

    // Stream + 1 of the headers last learnt at a place; universes of one sender lie beside each other.
    private readonly ushort[] _places = new ushort[Places];

    // All of sixteen octets but those with these numbers.
    private static Vector128<byte> AllBut1 => Vector128.Create((byte)255, 0, 255, 255, 255, 255, 255, 255, 255, 255, 255, 255, 255, 255, 255, 255);

    private static Vector128<byte> AllBut9 => Vector128.Create((byte)255, 255, 255, 255, 255, 255, 255, 255, 255, 0, 255, 255, 255, 255, 255, 255);

    private static Vector128<byte> AllBut10 => Vector128.Create((byte)255, 255, 255, 255, 255, 255, 255, 255, 255, 255, 0, 255, 255, 255, 255, 255);

    private static Vector128<byte> AllBut89 => Vector128.Create((byte)255, 255, 255, 255, 255, 255, 255, 255, 0, 0, 255, 255, 255, 255, 255, 255);

    private static Vector128<byte> AllBut2389 => Vector128.Create((byte)255, 255, 0, 0, 255, 255, 255, 255, 0, 0, 255, 255, 255, 255, 255, 255);

    /// <summary>Makes the frame of a packet like the one before it.</summary>
    /// <returns>False where it is another one; nothing was done then.</returns>
    public bool TryDecode(in CaptureRecord record, IFrameSink sink)
    {
        ReadOnlySpan<byte> data = record.Data;
        if (data.Length < ArtNetHeaders || record.LinkType != LinkType.Ethernet)
        {
            return false;
        }

        ref byte first = ref MemoryMarshal.GetReference(data);
        bool isSacn = Word(ref first, DestinationPortAt) != ArtNetHeader.Port;
        if (isSacn && data.Length < SacnHeaders)
        {
            return false;
        }

        int known = _places[PlaceOf(ref first, isSacn)];
        if (known == 0)
        {
            return false;
        }

        ref Entry entry = ref _entries[known - 1];
        int length = isSacn ? SacnHeaders : ArtNetHeaders;
        byte sequence = Unsafe.Add(ref first, isSacn ? SacnSequenceAt : ArtNetSequenceAt);
        if (entry.Length != length
            || entry.InterfaceId != record.InterfaceId
            || data.Length - length < entry.SlotCount
            || (isSacn ? sequence % NameEvery : sequence) == 0
            || !(isSacn ? IsLikeSacn(ref first, ref entry.Octets[0]) : IsLikeArtNet(ref first, ref entry.Octets[0])))
        {
            return false;
        }

        entry.Sequence = sequence;
        sink.OnFrame(new DmxFrame
        {
            Time = record.Time,
            Record = record.Number,
            Universe = entry.Universe,
            UniverseIndex = entry.UniverseIndex,
            Stream = known - 1,
            Sender = entry.Sender,
            StartCode = entry.StartCode,
            Sequence = sequence,
            Priority = entry.Priority,
            SyncAddress = entry.SyncAddress,
            Flags = entry.Flags,
            Print = new PacketPrint(unchecked(
                entry.Print
                | ((ulong)Word(ref first, IdentificationAt) << 48)
                | ((ulong)Word(ref first, UdpChecksumAt) << 32))),
            Host = entry.Host,
            Slots = MemoryMarshal.CreateReadOnlySpan(ref Unsafe.Add(ref first, length), entry.SlotCount),
        });
        return true;
    }

    /// <summary>The next packet of the stream goes the long way.</summary>
    public void Forget(int stream)
    {
        if (stream < _entries.Count && _entries[stream].Length != 0)
        {
            ref Entry entry = ref _entries[stream];
            entry.Length = 0;
            streams.Counted(stream, entry.Sequence);
        }
    }

    /// <summary>
    /// Takes the headers of a packet that was wholly understood: no rule broken, no slot missing, one IP version only, nothing
    /// that the next one like it would have to be told for.
    /// </summary>
    /// <param name="record">Its record.</param>
    /// <param name="frame">What was made of it.</param>
    public void Learn(in CaptureRecord record, in DmxFrame frame)
    {
        ReadOnlySpan<byte> data = record.Data;
        bool isSacn = frame.Universe.Protocol == UniverseProtocol.Sacn;
        int length = isSacn ? SacnHeaders : ArtNetHeaders;
        if (record.LinkType != LinkType.Ethernet
            || data.Length - length < frame.Slots.Length
            || BinaryPrimitives.ReadUInt16BigEndian(data[EtherTypeAt..]) != PlainIpv4
            || data[VersionAt] != VersionAndLength
            || BinaryPrimitives.ReadUInt16BigEndian(data[UdpLengthAt..]) == 0 // then all depends on how much was captured
            || BinaryPrimitives.ReadUInt16BigEndian(data[DestinationPortAt..]) == ArtNetHeader.Port == isSacn)
        {
            return;
        }

        ref Entry entry = ref _entries[frame.Stream];
        data[..length].CopyTo(entry.Octets);
        entry.Length = length;
        entry.InterfaceId = record.InterfaceId;
        entry.SlotCount = frame.Slots.Length;
        entry.Universe = frame.Universe;
        entry.UniverseIndex = frame.UniverseIndex;
        entry.Sender = frame.Sender;
        entry.StartCode = frame.StartCode;
        entry.Sequence = frame.Sequence;
        entry.Priority = frame.Priority;
        entry.SyncAddress = frame.SyncAddress;
        entry.Flags = frame.Flags;
        entry.Host = frame.Host;
        entry.Print = frame.Print.Value & ~PrintOfPacket;
        _places[PlaceOf(ref MemoryMarshal.GetReference(data), isSacn)] = (ushort)(frame.Stream + 1);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static int PlaceOf(ref byte first, bool isSacn)
    {
        uint host = Unsafe.ReadUnaligned<uint>(ref Unsafe.Add(ref first, SourceAt));
        uint universe = Word(ref first, isSacn ? SacnUniverseAt : ArtNetPortAddressAt);
        return (int)(unchecked((host * HostSpread) + universe) % Places);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static ushort Word(ref byte first, int at) =>
        BinaryPrimitives.ReverseEndianness(Unsafe.ReadUnaligned<ushort>(ref Unsafe.Add(ref first, at)));

    // Both are at least as long as the headers: sixteen octets at a time, the last sixteen overlapping those before.
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static bool IsLikeSacn(ref byte one, ref byte two)
    {
        Vector128<byte> differ = LinkAndIp(ref one, ref two)
            | (Differ(ref one, ref two, 32) & AllBut89)
            | Differ(ref one, ref two, 48)
            | Differ(ref one, ref two, 64)
            | Differ(ref one, ref two, 80)
            | Differ(ref one, ref two, 96)
            | Differ(ref one, ref two, 112)
            | Differ(ref one, ref two, 128)
            | (Differ(ref one, ref two, SacnSequenceAt - 9) & AllBut9)
            | (Differ(ref one, ref two, SacnHeaders - 16) & AllBut1);
        return differ == Vector128<byte>.Zero;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static bool IsLikeArtNet(ref byte one, ref byte two)
    {
        Vector128<byte> differ = LinkAndIp(ref one, ref two)
            | (Differ(ref one, ref two, 32) & AllBut89)
            | (Differ(ref one, ref two, ArtNetHeaders - 16) & AllBut10);
        return differ == Vector128<byte>.Zero;
    }

    // Identification is at 18, the header checksum at 24.
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector128<byte> LinkAndIp(ref byte one, ref byte two) =>
        Differ(ref one, ref two, 0) | (Differ(ref one, ref two, 16) & AllBut2389);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector128<byte> Differ(ref byte one, ref byte two, int at) =>
        Vector128.LoadUnsafe(ref one, (nuint)at) ^ Vector128.LoadUnsafe(ref two, (nuint)at);

    [InlineArray(SacnHeaders)]
    private struct Headers
    {
        private byte _first;
    }

    private struct Entry
    {
        /// <summary>First, so that it begins as the entry does.</summary>
        public Headers Octets;

        /// <summary>Octets that must be alike; 0 = nothing is known.</summary>
        public int Length;
        public int InterfaceId;
        public int SlotCount;
        public UniverseId Universe;
        public int UniverseIndex;
        public int Sender;
        public uint Host;
        public FrameFlags Flags;
        public ulong Print;
        public ushort SyncAddress;
        public byte StartCode;
        public byte Priority;
        public byte Sequence;
    }
}
