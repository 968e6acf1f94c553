using System.Buffers.Binary;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Protocols.CaptureFiles;

/// <summary>The records of a classic pcap file. Made by <see cref="CaptureFileReader"/>.</summary>
internal sealed class PcapSource : ICaptureSource
{
    private const int RecordHeaderLength = 16;

    // What general capture tools take for the longest packet; a file with a larger snap length may hold longer ones.
    private const int LongestPacket = 262_144;

    private readonly ByteWindow _window;
    private readonly CaptureDamage _damage;
    private readonly bool _bigEndian;
    private readonly int _fractionUnit;
    private readonly LinkType _linkType;
    private readonly uint _longest;
    private long _number;

    public PcapSource(ByteWindow window, PcapHeader header, CaptureDamage damage, string name)
    {
        _window = window;
        _damage = damage;
        _bigEndian = header.BigEndian;
        _fractionUnit = header.FractionUnit;
        _linkType = header.LinkType;
        _longest = Math.Clamp(header.SnapLength, LongestPacket, PcapngFormat.LongestBlock);
        Name = name;
        Interfaces =
        [
            new CaptureInterface(
                0, "", "", header.LinkType, header.SnapLength, Duration.FromNanoseconds(header.FractionUnit), StampedBy.Unknown),
        ];
    }

    public string Name { get; }

    public IReadOnlyList<CaptureInterface> Interfaces { get; }

    public InputProblem? Problem { get; private set; }

    public ReadStatus Read(out CaptureRecord record)
    {
        ByteWindow window = _window;
        if (!window.Has(RecordHeaderLength))
        {
            return End(window.Available == 0 ? 0 : RecordHeaderLength, out record);
        }

        ReadOnlySpan<byte> header = window.Peek(RecordHeaderLength);
        uint seconds = BinaryPrimitives.ReadUInt32LittleEndian(header);
        uint fraction = BinaryPrimitives.ReadUInt32LittleEndian(header[4..]);
        uint captured = BinaryPrimitives.ReadUInt32LittleEndian(header[8..]);
        uint original = BinaryPrimitives.ReadUInt32LittleEndian(header[12..]);
        if (_bigEndian)
        {
            seconds = BinaryPrimitives.ReverseEndianness(seconds);
            fraction = BinaryPrimitives.ReverseEndianness(fraction);
            captured = BinaryPrimitives.ReverseEndianness(captured);
            original = BinaryPrimitives.ReverseEndianness(original);
        }

        if (captured > _longest || captured > original || original > int.MaxValue)
        {
            return Damaged(captured, original, out record);
        }

        int total = RecordHeaderLength + (int)captured;
        if (!window.Has(total))
        {
            return End(total, out record);
        }

        record = new CaptureRecord
        {
            Number = ++_number,
            Time = Timestamp.FromUnixNanoseconds((seconds * 1_000_000_000L) + ((long)fraction * _fractionUnit)),
            InterfaceId = 0,
            LinkType = _linkType,
            OriginalLength = (int)original,
            Data = window.Peek(total)[RecordHeaderLength..],
        };
        window.Skip(total);
        return ReadStatus.Record;
    }

    public void Dispose() => _window.Dispose();

    private ReadStatus End(int expected, out CaptureRecord record)
    {
        // A second call after the end finds nothing left and must not forget what the first one found.
        Problem ??= expected > 0 ? _damage.Cut(_window, RecordName, expected, _number)
            : _window.Failure is not null ? _damage.Unreadable(_window, _number)
            : null;
        _window.Close();
        record = default;
        return ReadStatus.End;
    }

    private ReadStatus Damaged(uint captured, uint original, out CaptureRecord record)
    {
        long header = _window.Position;
        string what = RecordName + " is damaged";
        Problem = captured > _longest
            ? _damage.Wrong(
                what, header + 8, "at most " + CaptureDamage.Octets(_longest) + " captured", CaptureDamage.Number(captured), _number)
            : captured > original
                ? _damage.Wrong(
                    what,
                    header + 12,
                    "an original length of at least the " + CaptureDamage.Octets(captured) + " captured",
                    CaptureDamage.Number(original),
                    _number)
                : _damage.Wrong(
                    what, header + 12, "an original length below 2 GiB", CaptureDamage.Octets(original), _number);
        _window.Close();
        record = default;
        return ReadStatus.End;
    }

    private string RecordName => "record " + CaptureDamage.Number(_number + 1);
}
