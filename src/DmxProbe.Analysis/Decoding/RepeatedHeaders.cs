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
internal sealed class RepeatedHeaders(SenderTable senders, StreamTable streams)
{
    // Of an Ethernet frame with IPv4 and UDP and no options anywhere.
    private const int EtherTypeAt = 12;
    private const int VersionAt = 14;
    private const int IdentificationAt = 18;
    private const int IpChecksumAt = 24;
    private const int SourceAt = 26;
    private const int DestinationPortAt = 36;
    private const int UdpLengthAt = 38;
    private const int UdpChecksumAt = 40;
    private const int PayloadAt = 42;
    private const int NameAt = PayloadAt + 44;
    private const int SacnSequenceAt = PayloadAt + 111;
    private const int SacnUniverseAt = PayloadAt + 113;
    private const int SacnHeaders = PayloadAt + SacnDataPacket.HeaderLength;
    private const int ArtNetSequenceAt = PayloadAt + 12;
    private const int ArtNetPortAddressAt = PayloadAt + 14;
    private const int ArtNetHeaders = PayloadAt + ArtDmxPacket.HeaderLength;
    private const ushort PlainIpv4 = 0x0800;
    private const byte VersionAndLength = 0x45;

    private const ulong PrintOfPacket = 0xFFFFFFFF00000000;
    private const int Places = 16384;
    private const uint HostSpread = 1009;

    private readonly PerIndex<Entry> _entries = new();

    // Stream + 1 of the headers last learnt at a place; universes of one sender lie beside each other.
    private readonly ushort[] _places = new ushort[Places];

    // 0 where packets of a stream may differ.
    private static readonly byte[] SacnMask = MaskOf(SacnHeaders, SacnSequenceAt);
    private static readonly byte[] ArtNetMask = MaskOf(ArtNetHeaders, ArtNetSequenceAt);

    private int _last; // the stream whose packet was last decoded here

    /// <summary>Makes the frame of a packet like the one before it.</summary>
    /// <returns>False where it is another one; nothing was done then.</returns>
    public bool TryDecode(in CaptureRecord record, IFrameSink sink)
    {
        ReadOnlySpan<byte> data = record.Data;
        if (data.Length < ArtNetHeaders || record.LinkType != LinkType.Ethernet)
        {
            return false;
        }

        // Streams follow each other in the order of the round before, nearly always: its entry is at hand before the packet is.
        ref byte first = ref MemoryMarshal.GetReference(data);
        int stream = _entries[_last].Follower;
        if (!IsRepeated(stream, in record, ref first))
        {
            bool mayBeSacn = Word(ref first, DestinationPortAt) != ArtNetHeader.Port;
            if (mayBeSacn && data.Length < SacnHeaders)
            {
                return false;
            }

            stream = _places[PlaceOf(ref first, mayBeSacn)] - 1;
            if (stream < 0 || !IsRepeated(stream, in record, ref first))
            {
                return false;
            }

            _entries[_last].Follower = stream;
        }

        _last = stream;
        ref Entry entry = ref _entries[stream];
        int length = entry.Length;
        byte sequence = Unsafe.Add(ref first, length == SacnHeaders ? SacnSequenceAt : ArtNetSequenceAt);
        if (length == SacnHeaders && sequence % SacnDecoder.NameEvery == 0)
        {
            Name(in entry);
        }

        entry.Sequence = sequence;
        PacketPrint print = new(unchecked(
            entry.Print | ((ulong)Word(ref first, IdentificationAt) << 48) | ((ulong)Word(ref first, UdpChecksumAt) << 32)));
        ReadOnlySpan<byte> slots = MemoryMarshal.CreateReadOnlySpan(ref Unsafe.Add(ref first, length), entry.SlotCount);
        if (!sink.TryRepeat(stream, record.Time, sequence, print, slots))
        {
            Deliver(in record, in entry, stream, print, slots, sink);
        }

        return true;
    }

    private static void Deliver(
        in CaptureRecord record, in Entry entry, int stream, PacketPrint print, ReadOnlySpan<byte> slots, IFrameSink sink) =>
        sink.OnFrame(new DmxFrame
        {
            Time = record.Time,
            Record = record.Number,
            Universe = entry.Universe,
            UniverseIndex = entry.UniverseIndex,
            Stream = stream,
            Sender = entry.Sender,
            StartCode = entry.StartCode,
            Sequence = entry.Sequence,
            Priority = entry.Priority,
            SyncAddress = entry.SyncAddress,
            Flags = entry.Flags,
            Print = print,
            Host = entry.Host,
            Slots = slots,
        });

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private bool IsRepeated(int stream, in CaptureRecord record, ref byte first)
    {
        ref Entry entry = ref _entries[stream];
        int length = entry.Length;
        return length != 0
            && record.Data.Length - length >= entry.SlotCount
            && record.InterfaceId == entry.InterfaceId
            && (length == SacnHeaders
                ? AreAlike(ref first, ref entry.Octets[0], ref MemoryMarshal.GetArrayDataReference(SacnMask), SacnHeaders)
                : AreAlike(ref first, ref entry.Octets[0], ref MemoryMarshal.GetArrayDataReference(ArtNetMask), ArtNetHeaders)
                    && Unsafe.Add(ref first, ArtNetSequenceAt) != 0);
    }

    // Another stream of the sender, or its discovery packets, may have named it otherwise.
    [MethodImpl(MethodImplOptions.NoInlining)]
    private void Name(in Entry entry)
    {
        ReadOnlySpan<byte> name = ((ReadOnlySpan<byte>)entry.Octets).Slice(NameAt, SacnDataPacket.SourceNameLength);
        senders.Name(entry.Sender, name[..name.IndexOf((byte)0)]);
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

    private static byte[] MaskOf(int length, int sequenceAt)
    {
        byte[] mask = new byte[length];
        Array.Fill(mask, byte.MaxValue);
        foreach (int at in (ReadOnlySpan<int>)
            [IdentificationAt, IdentificationAt + 1, IpChecksumAt, IpChecksumAt + 1, UdpChecksumAt, UdpChecksumAt + 1, sequenceAt])
        {
            mask[at] = 0;
        }

        return mask;
    }

    // All three hold at least so many octets. The last look overlaps the one before it.
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static bool AreAlike(ref byte one, ref byte two, ref byte mask, int length)
    {
        if (Vector512.IsHardwareAccelerated && length >= Vector512<byte>.Count)
        {
            nuint end = (nuint)(length - Vector512<byte>.Count);
            Vector512<byte> differ = default;
            for (nuint at = 0; at < end; at += (nuint)Vector512<byte>.Count)
            {
                differ |= (Vector512.LoadUnsafe(ref one, at) ^ Vector512.LoadUnsafe(ref two, at)) & Vector512.LoadUnsafe(ref mask, at);
            }

            differ |= (Vector512.LoadUnsafe(ref one, end) ^ Vector512.LoadUnsafe(ref two, end)) & Vector512.LoadUnsafe(ref mask, end);
            return differ == Vector512<byte>.Zero;
        }
        else
        {
            nuint end = (nuint)(length - Vector128<byte>.Count);
            Vector128<byte> differ = default;
            for (nuint at = 0; at < end; at += (nuint)Vector128<byte>.Count)
            {
                differ |= (Vector128.LoadUnsafe(ref one, at) ^ Vector128.LoadUnsafe(ref two, at)) & Vector128.LoadUnsafe(ref mask, at);
            }

            differ |= (Vector128.LoadUnsafe(ref one, end) ^ Vector128.LoadUnsafe(ref two, end)) & Vector128.LoadUnsafe(ref mask, end);
            return differ == Vector128<byte>.Zero;
        }
    }

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

        /// <summary>The stream whose packet came behind that of this one.</summary>
        public int Follower;
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
