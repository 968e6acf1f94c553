using System.Text;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Protocols.CaptureFiles;

/// <summary>
/// Writes one pcapng section, little endian. The same calls give the same bytes: nothing is taken from the machine or
/// its clock. Blocks are collected in one buffer; writing a packet allocates nothing.
/// </summary>
/// <remarks>
/// General capture tools open a file with several interfaces only when all have the same link type and snap length;
/// the caller sees to that. Write errors of the stream are thrown as they come.
/// </remarks>
public sealed class PcapngWriter : IDisposable
{
    private const int FlushAt = 64 * 1024;
    private const long NanosecondsPerSecond = 1_000_000_000;

    private readonly Stream _stream;
    private readonly bool _leaveOpen;
    private readonly List<InterfaceClock> _clocks = [];
    private readonly PcapngBlockBuilder _block = new(2 * FlushAt);
    private long _flushed;
    private int _channels;

    /// <summary>Starts the section: writes the Section Header Block.</summary>
    /// <param name="stream">Where the bytes go.</param>
    /// <param name="application">Name of the writing program (shb_userappl); empty for none.</param>
    /// <param name="leaveOpen">True when disposing the writer must not close the stream.</param>
    public PcapngWriter(Stream stream, string application, bool leaveOpen = false)
    {
        ArgumentNullException.ThrowIfNull(stream);
        ArgumentNullException.ThrowIfNull(application);
        _stream = stream;
        _leaveOpen = leaveOpen;
        _block.Begin(PcapngFormat.SectionHeader, 16 + OptionRoom(application));
        _block.PutUInt32(PcapngFormat.ByteOrderMagic);
        _block.PutUInt16(1);
        _block.PutUInt16(0);
        _block.PutUInt64(ulong.MaxValue); // section length -1: not known while writing
        if (application.Length > 0)
        {
            _block.PutOption(PcapngFormat.Option.SectionApplication, application);
            _block.PutEndOfOptions();
        }

        End();
    }

    /// <summary>
    /// False to hand blocks to the stream only in <see cref="Flush"/>: then no other call can fail for what the stream does,
    /// and what a failed <see cref="Flush"/> could not hand over is handed over by the next. The buffer grows as needed.
    /// </summary>
    public bool HandsOverByItself { get; init; } = true;

    /// <summary>Octets not yet handed to the stream.</summary>
    public int Waiting => _block.Length;

    /// <summary>Octets written so far, those still in the buffer included.</summary>
    public long BytesWritten => _flushed + _block.Length;

    /// <summary>Describes the next interface: writes an Interface Description Block.</summary>
    /// <param name="name">if_name; empty for none.</param>
    /// <param name="description">if_description; empty for none.</param>
    /// <param name="linkType">How its packets start.</param>
    /// <param name="snapLength">Longest packet kept, in octets; 0 = unlimited.</param>
    /// <param name="resolution">Times are written in units of 10^-resolution seconds, 0 to 9; finer parts are cut off.</param>
    /// <param name="offsetSeconds">
    /// if_tsoffset: seconds since 1970 that stand for the written time 0. Only needed for times before 1970.
    /// </param>
    /// <param name="source">
    /// The interface that the records come from: its clock's resolution, who stamped and its snap length are kept in an option
    /// of local use. Null for none.
    /// </param>
    /// <returns>The number of the interface, from 0.</returns>
    public int AddInterface(
        string name,
        string description,
        LinkType linkType,
        int snapLength = 0,
        int resolution = 9,
        long offsetSeconds = 0,
        CaptureInterface? source = null)
    {
        ArgumentNullException.ThrowIfNull(name);
        ArgumentNullException.ThrowIfNull(description);
        ArgumentOutOfRangeException.ThrowIfNegative(snapLength);
        ArgumentOutOfRangeException.ThrowIfNegative(resolution);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(resolution, 9);
        ArgumentOutOfRangeException.ThrowIfLessThan(offsetSeconds, -10_000_000_000);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(offsetSeconds, 10_000_000_000);
        _block.Begin(PcapngFormat.InterfaceDescription, 32 + PcapngClockOption.Size + 4 + OptionRoom(name) + OptionRoom(description));
        _block.PutUInt16(checked((ushort)linkType));
        _block.PutUInt16(0);
        _block.PutUInt32((uint)snapLength);
        if (name.Length > 0)
        {
            _block.PutOption(PcapngFormat.Option.InterfaceName, name);
        }

        if (description.Length > 0)
        {
            _block.PutOption(PcapngFormat.Option.InterfaceDescription, description);
        }

        _block.PutOption(PcapngFormat.Option.InterfaceResolution, [(byte)resolution]);
        if (offsetSeconds != 0)
        {
            _block.PutOption(PcapngFormat.Option.InterfaceOffset, unchecked((ulong)offsetSeconds));
        }

        if (source is not null)
        {
            Span<byte> told = stackalloc byte[PcapngClockOption.Size];
            PcapngClockOption.Write(told, source);
            _block.PutOption(PcapngFormat.Option.InterfaceClock, told);
        }

        _block.PutEndOfOptions();
        End();
        long unit = 1;
        for (int digit = resolution; digit < 9; digit++)
        {
            unit *= 10;
        }

        _clocks.Add(new InterfaceClock(unit, offsetSeconds));
        return _clocks.Count - 1;
    }

    /// <summary>Writes a packet: an Enhanced Packet Block.</summary>
    /// <param name="interfaceId">What <see cref="AddInterface"/> returned.</param>
    /// <param name="time">When it was captured; not before the interface's offset.</param>
    /// <param name="data">The captured octets, starting with the header of the interface's link type.</param>
    /// <param name="originalLength">Octets on the wire.</param>
    /// <param name="comment">A comment on this packet (option 1), or null.</param>
    /// <param name="lostBefore">Packets the capture itself lost on this interface just before (epb_dropcount); 0 = not written.</param>
    public void WritePacket(
        int interfaceId,
        Timestamp time,
        ReadOnlySpan<byte> data,
        int originalLength,
        string? comment = null,
        long lostBefore = 0)
    {
        ulong ticks = Ticks(interfaceId, time);
        ArgumentOutOfRangeException.ThrowIfLessThan(originalLength, data.Length);
        ArgumentOutOfRangeException.ThrowIfNegative(lostBefore);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(data.Length, PcapngFormat.LongestBlock - (256 * 1024), nameof(data));
        bool hasOptions = lostBefore > 0 || comment is not null;
        int room = hasOptions ? 20 + OptionRoom(comment ?? "") : 0;
        _block.Begin(PcapngFormat.EnhancedPacket, 20 + PcapngFormat.Padded(data.Length) + room);
        _block.PutUInt32((uint)interfaceId);
        _block.PutUInt32((uint)(ticks >> 32));
        _block.PutUInt32((uint)(ticks & uint.MaxValue));
        _block.PutUInt32((uint)data.Length);
        _block.PutUInt32((uint)originalLength);
        _block.PutPadded(data);
        if (comment is not null)
        {
            _block.PutOption(PcapngFormat.Option.Comment, comment);
        }

        if (lostBefore > 0)
        {
            _block.PutOption(PcapngFormat.Option.PacketDropCount, (ulong)lostBefore);
        }

        if (hasOptions)
        {
            _block.PutEndOfOptions();
        }

        End();
    }

    /// <summary>Writes what an interface counted since the capture began: an Interface Statistics Block.</summary>
    /// <param name="interfaceId">What <see cref="AddInterface"/> returned.</param>
    /// <param name="time">When the counters were read.</param>
    /// <param name="received">Packets received (isb_ifrecv), or null when not known.</param>
    /// <param name="interfaceDropped">Packets the interface dropped (isb_ifdrop), or null when not known.</param>
    /// <param name="systemDropped">Packets the operating system dropped (isb_osdrop), or null when not known.</param>
    public void WriteStatistics(
        int interfaceId, Timestamp time, long? received, long? interfaceDropped, long? systemDropped = null)
    {
        ulong ticks = Ticks(interfaceId, time);
        _block.Begin(PcapngFormat.InterfaceStatistics, 64);
        _block.PutUInt32((uint)interfaceId);
        _block.PutUInt32((uint)(ticks >> 32));
        _block.PutUInt32((uint)(ticks & uint.MaxValue));
        PutCount(PcapngFormat.Option.StatisticsReceived, received);
        PutCount(PcapngFormat.Option.StatisticsInterfaceDrop, interfaceDropped);
        PutCount(PcapngFormat.Option.StatisticsSystemDrop, systemDropped);
        if (received is not null || interfaceDropped is not null || systemDropped is not null)
        {
            _block.PutEndOfOptions();
        }

        End();
    }

    /// <summary>
    /// Describes a channel in a block of a local-use type: anything that is no Ethernet interface. General tools skip it.
    /// </summary>
    /// <param name="channel">What it is; its number is not written.</param>
    /// <returns>The number of the channel, from 0; channels and interfaces are numbered apart.</returns>
    public int AddChannel(CaptureInterface channel)
    {
        ArgumentNullException.ThrowIfNull(channel);
        _block.Begin(
            PcapngFormat.Channel, PcapngChannelBlock.FixedLength + OptionRoom(channel.Name) + OptionRoom(channel.Description));
        PcapngChannelBlock.Write(_block, channel, _channels);
        End();
        return _channels++;
    }

    /// <summary>Writes a record of a channel, of any kind: a block of a local-use type.</summary>
    /// <param name="channel">What <see cref="AddChannel"/> returned.</param>
    /// <param name="record">The record; its number and interface are not written, losses over 4,294,967,295 are held there.</param>
    public void WriteChannelRecord(int channel, in CaptureRecord record)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(channel);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(channel, _channels);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(record.Data.Length, PcapngFormat.LongestBlock - 1024, nameof(record));
        _block.Begin(PcapngFormat.ChannelRecord, PcapngChannelRecord.FixedLength + PcapngFormat.Padded(record.Data.Length));
        PcapngChannelRecord.Write(_block, channel, in record);
        End();
    }

    /// <summary>Writes a block of any type as it is, padded to a multiple of 4. For blocks of local-use types.</summary>
    /// <param name="type">Block type; local use when the most significant bit is set.</param>
    /// <param name="body">What stands between the two total lengths; at most 15 MiB.</param>
    public void WriteRawBlock(uint type, ReadOnlySpan<byte> body)
    {
        ArgumentOutOfRangeException.ThrowIfGreaterThan(body.Length, PcapngFormat.LongestBlock - (1024 * 1024), nameof(body));
        _block.Begin(type, PcapngFormat.Padded(body.Length));
        _block.PutPadded(body);
        End();
    }

    /// <summary>Hands everything to the stream and flushes it.</summary>
    public void Flush()
    {
        Drain();
        _stream.Flush();
    }

    /// <summary>Flushes, and closes the stream unless it was to be left open.</summary>
    public void Dispose()
    {
        Flush();
        if (!_leaveOpen)
        {
            _stream.Dispose();
        }
    }

    private static int OptionRoom(string text) => Encoding.UTF8.GetMaxByteCount(text.Length) + 12;

    private void PutCount(ushort code, long? count)
    {
        if (count is long value)
        {
            _block.PutOption(code, (ulong)value);
        }
    }

    private ulong Ticks(int interfaceId, Timestamp time)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(interfaceId);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(interfaceId, _clocks.Count);
        InterfaceClock clock = _clocks[interfaceId];
        Int128 nanoseconds = (Int128)time.UnixNanoseconds - ((Int128)clock.OffsetSeconds * NanosecondsPerSecond);
        if (nanoseconds < 0 || nanoseconds / clock.Unit > ulong.MaxValue)
        {
            throw new ArgumentOutOfRangeException(nameof(time), time, "the time is outside what the interface's clock can hold");
        }

        return (ulong)(nanoseconds / clock.Unit);
    }

    private void End()
    {
        _block.End();
        if (_block.Length >= FlushAt && HandsOverByItself)
        {
            Drain();
        }
    }

    private void Drain()
    {
        _stream.Write(_block.Written);
        _flushed += _block.Length;
        _block.Clear();
    }

    private readonly record struct InterfaceClock(long Unit, long OffsetSeconds);
}
