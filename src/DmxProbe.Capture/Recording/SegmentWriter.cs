using DmxProbe.Protocols.CaptureFiles;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Capture.Recording;

/// <summary>One file of a recording while it is written. Every packet in it is Ethernet; all else is in channels.</summary>
internal sealed class SegmentWriter : IDisposable
{
    // Readers take 0 for this anyway; said outright it is the same for every interface of every file.
    private const int SnapLength = 262_144;
    private const int MostHeader = 14;
    private const int HandOverAt = 64 * 1024;

    private readonly SegmentStream _stream;
    private readonly PcapngWriter _writer;
    private readonly Dictionary<int, Place> _places = [];
    private readonly IndexBuilder _index = new();
    private byte[] _scratch = new byte[2_048];

    /// <summary>Makes the file.</summary>
    /// <param name="path">Its path; there must be none yet.</param>
    /// <param name="application">Name of the writing program.</param>
    public SegmentWriter(string path, string application)
    {
        Path = path;
        _stream = new SegmentStream(path);
        _writer = new PcapngWriter(_stream, application, leaveOpen: true) { HandsOverByItself = false };
    }

    /// <summary>Path of the file.</summary>
    public string Path { get; }

    /// <summary>Octets, those not yet handed to the system included.</summary>
    public long Length => _writer.BytesWritten;

    /// <summary>Records in it.</summary>
    public long Records => _index.Records;

    /// <summary>Time of its first record.</summary>
    public Timestamp? First => _index.First;

    /// <summary>Latest time of its records.</summary>
    public Timestamp Latest => _index.Latest;

    /// <summary>The open file.</summary>
    public SegmentStream Stream => _stream;

    /// <summary>Writes a record.</summary>
    /// <exception cref="IOException">The file cannot be written; the record is kept and written with the next that can be.</exception>
    public void Write(in CaptureRecord record, CaptureInterface face, long lostBefore)
    {
        if (!_places.TryGetValue(face.Id, out Place? place))
        {
            place = new Place();
            _places.Add(face.Id, place);
        }

        if (face.Content != InterfaceContent.Network || !TryWritePacket(in record, face, place, lostBefore))
        {
            WriteToChannel(in record, face, place, lostBefore);
        }

        if (_writer.Waiting >= HandOverAt)
        {
            HandOver();
        }
    }

    /// <summary>Hands what is written to the operating system: from then on it survives the end of this process.</summary>
    public void HandOver() => _writer.Flush();

    /// <summary>The index of what was handed over.</summary>
    public SegmentIndex Index() => _index.Build(_stream.Length);

    public void Dispose() => _stream.Dispose();

    private bool TryWritePacket(in CaptureRecord record, CaptureInterface face, Place place, long lostBefore)
    {
        ReadOnlySpan<byte> data = record.Data;
        int original = record.OriginalLength;
        if (record.Time.UnixNanoseconds < 0 || data.Length > SnapLength - MostHeader)
        {
            return false;
        }

        bool isLoss = record.Kind == RecordKind.Loss;
        if (face.LinkType != LinkType.Ethernet && !isLoss)
        {
            if (_scratch.Length < data.Length + MostHeader)
            {
                _scratch = new byte[2 * (data.Length + MostHeader)];
            }

            if (!EthernetForm.TryWrite(face.LinkType, data, _scratch, out int length))
            {
                return false;
            }

            original = (int)Math.Min((long)original + length - data.Length, int.MaxValue);
            data = _scratch.AsSpan(0, length);
        }
        else if (face.LinkType != LinkType.Ethernet && place.Interface < 0)
        {
            return false;
        }

        if (place.Interface < 0)
        {
            string description = face.LinkType == LinkType.Ethernet ? face.Description : EthernetForm.Describe(face);
            place.Interface = _writer.AddInterface(face.Name, description, LinkType.Ethernet, SnapLength, source: face);
        }

        long lost = Math.Clamp(lostBefore, 0, uint.MaxValue);
        place.Lost += lost;
        _index.Add(record.Time, _writer.BytesWritten, record.Kind, lost);
        if (isLoss)
        {
            _writer.WriteStatistics(place.Interface, record.Time, received: null, interfaceDropped: place.Lost);
        }
        else
        {
            _writer.WritePacket(place.Interface, record.Time, data, Math.Max(original, data.Length), lostBefore: lost);
        }

        return true;
    }

    private void WriteToChannel(in CaptureRecord record, CaptureInterface face, Place place, long lostBefore)
    {
        if (place.Channel < 0)
        {
            place.Channel = _writer.AddChannel(face);
        }

        _index.Add(record.Time, _writer.BytesWritten, record.Kind, lostBefore);
        _writer.WriteChannelRecord(place.Channel, new CaptureRecord
        {
            Number = record.Number,
            Time = record.Time,
            HasTime = record.HasTime,
            Kind = record.Kind,
            InterfaceId = record.InterfaceId,
            LinkType = record.LinkType,
            OriginalLength = record.OriginalLength,
            LostBefore = lostBefore,
            Data = record.Data,
        });
    }

    // Where the records of one interface of the source go in this file.
    private sealed class Place
    {
        public int Interface { get; set; } = -1;

        public int Channel { get; set; } = -1;

        public long Lost { get; set; }
    }
}
