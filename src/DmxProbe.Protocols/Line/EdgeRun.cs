using System.Buffers.Binary;
using System.Runtime.InteropServices;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Protocols.Line;

/// <summary>
/// View of an <see cref="RecordKind.Edges"/> record: one channel (the interface) over a stretch of time that starts at
/// the record's time. All numbers are little endian, times in ticks of <see cref="CaptureInterface.TicksPerSecond"/>.
/// </summary>
/// <remarks>
/// Layout: octet 0 the level at the start (<see cref="LineLevel"/>), octet 1 <see cref="EdgeRunFlags"/>, octets 2 and 3
/// zero, octets 4 to 7 the ticks from the last edge (or from the start) to the end of the run, octets 8 to 15 the tick
/// of the start counted from the start of the recording, then a 32-bit number for each edge: ticks since the edge before
/// it, or since the start. The level flips at each edge, so a run that starts or ends in
/// <see cref="LineLevel.Unknown"/> has no edges: known stretches between unknown ones are runs of their own. The number
/// 4,294,967,295 is no edge: that many ticks pass and the level stays.
/// </remarks>
public readonly ref struct EdgeRun
{
    /// <summary>Octets before the first edge.</summary>
    public const int HeaderSize = 16;

    /// <summary>The number that is no edge.</summary>
    public const uint NoEdge = uint.MaxValue;

    private readonly ReadOnlySpan<byte> _data;

    private EdgeRun(ReadOnlySpan<byte> data) => _data = data;

    /// <summary>Level at the start.</summary>
    public LineLevel StartLevel => (LineLevel)_data[0];

    /// <summary>Gap before it, end after it.</summary>
    public EdgeRunFlags Flags => (EdgeRunFlags)_data[1];

    /// <summary>Ticks from the last edge, or from the start where there is none, to the end of the run.</summary>
    public uint Tail => BinaryPrimitives.ReadUInt32LittleEndian(_data[4..]);

    /// <summary>Tick of the start, counted from the start of the recording; exact, where the record's time is rounded.</summary>
    public long StartTick => BinaryPrimitives.ReadInt64LittleEndian(_data[8..]);

    /// <summary>Ticks between edges, oldest first; see <see cref="NoEdge"/>. A view, on little-endian machines.</summary>
    public ReadOnlySpan<uint> Steps => MemoryMarshal.Cast<byte, uint>(_data[HeaderSize..]);

    /// <summary>Looks at a record's bytes.</summary>
    /// <param name="data">The bytes.</param>
    /// <param name="run">The run, valid as long as the bytes.</param>
    /// <returns>False where the bytes are none: too short, not whole numbers, a level or start that cannot be, edges of no known level.</returns>
    public static bool TryParse(ReadOnlySpan<byte> data, out EdgeRun run)
    {
        run = default;
        if (data.Length < HeaderSize || data.Length % sizeof(uint) != 0 || data[0] > (byte)LineLevel.Unknown || (data[1] & ~3) != 0)
        {
            return false;
        }

        run = new EdgeRun(data);
        return run.StartTick >= 0 && (run.StartLevel != LineLevel.Unknown || run.Steps.TrimEnd(NoEdge).IsEmpty);
    }

    /// <summary>Writes the header; the steps follow it.</summary>
    /// <param name="target">At least <see cref="HeaderSize"/> octets.</param>
    /// <param name="startLevel">Level at the start.</param>
    /// <param name="flags">Gap before it, end after it.</param>
    /// <param name="tail">Ticks from the last edge to the end of the run.</param>
    /// <param name="startTick">Tick of the start, counted from the start of the recording.</param>
    public static void WriteHeader(Span<byte> target, LineLevel startLevel, EdgeRunFlags flags, uint tail, long startTick)
    {
        target[0] = (byte)startLevel;
        target[1] = (byte)flags;
        BinaryPrimitives.WriteUInt16LittleEndian(target[2..], 0);
        BinaryPrimitives.WriteUInt32LittleEndian(target[4..], tail);
        BinaryPrimitives.WriteInt64LittleEndian(target[8..], startTick);
    }
}
