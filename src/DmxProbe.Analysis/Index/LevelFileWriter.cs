using System.Buffers.Binary;
using System.Text;
using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Index;

/// <summary>Writes a review file (docs/formats.md): blocks of level tracks, then a directory, then the header.</summary>
internal sealed class LevelFileWriter
{
    private readonly Stream _stream;
    private readonly List<(int Stream, LevelFileEntry Entry)[]> _blocks = [];
    private long _offset = LevelFile.HeaderLength;

    /// <summary>Begins a file.</summary>
    /// <param name="stream">Where to; left open.</param>
    public LevelFileWriter(Stream stream)
    {
        _stream = stream;
        stream.Write(new byte[LevelFile.HeaderLength]);
    }

    /// <summary>Writes a block: what the streams sent in a time.</summary>
    /// <param name="tracks">The streams by their number; null where nothing is kept of one.</param>
    public void WriteBlock(IReadOnlyList<LevelTrack?> tracks)
    {
        List<(int, LevelFileEntry)> entries = [];
        for (int stream = 0; stream < tracks.Count; stream++)
        {
            if (tracks[stream] is { IsEmpty: false } track)
            {
                entries.Add((stream, Write(track)));
            }
        }

        if (entries.Count > 0)
        {
            _blocks.Add([.. entries]);
        }
    }

    /// <summary>Writes directory and header.</summary>
    /// <param name="part">The part that this was made from.</param>
    /// <param name="streams">Universe and sender of each stream.</param>
    public void Finish(RecordingPart part, IReadOnlyList<ReviewStream> streams)
    {
        Octets directory = default;
        directory.AddNumber((ulong)streams.Count);
        foreach (ReviewStream stream in streams)
        {
            Describe(ref directory, stream);
        }

        directory.AddNumber((ulong)_blocks.Count);
        foreach ((int, LevelFileEntry)[] block in _blocks)
        {
            directory.AddNumber((ulong)block.Length);
            foreach ((int stream, LevelFileEntry entry) in block)
            {
                directory.AddNumber((ulong)stream);
                entry.WriteTo(ref directory);
            }
        }

        _stream.Write(directory.Written);
        byte[] header = new byte[LevelFile.HeaderLength];
        LevelFile.Magic.CopyTo(header);
        BinaryPrimitives.WriteInt64LittleEndian(header.AsSpan(8), part.Octets);
        BinaryPrimitives.WriteUInt64LittleEndian(header.AsSpan(16), part.Stamp);
        BinaryPrimitives.WriteInt64LittleEndian(header.AsSpan(24), _offset);
        BinaryPrimitives.WriteInt64LittleEndian(header.AsSpan(32), directory.Length);
        BinaryPrimitives.WriteUInt32LittleEndian(header.AsSpan(40), Octets.Sum(directory.Written));
        BinaryPrimitives.WriteUInt32LittleEndian(header.AsSpan(44), Octets.Sum(header.AsSpan(0, 44)));
        _stream.Position = 0;
        _stream.Write(header);
        _stream.Flush();
    }

    private static void Describe(ref Octets directory, ReviewStream stream)
    {
        SenderSummary sender = stream.Sender;
        directory.Add((byte)stream.Universe.Protocol);
        directory.AddNumber((ulong)stream.Universe.Number);
        directory.Add((byte)sender.Protocol);
        foreach (string text in new[] { sender.Name, sender.Address, sender.MeasuredAt, sender.Cid })
        {
            directory.AddCounted(Encoding.UTF8.GetBytes(text));
        }

        directory.AddNumber((ulong)sender.Addresses.Count);
        foreach (string address in sender.Addresses)
        {
            directory.AddCounted(Encoding.UTF8.GetBytes(address));
        }

        directory.AddSigned(sender.Physical);
    }

    private LevelFileEntry Write(LevelTrack track)
    {
        LevelFileEntry entry = LevelFileEntry.Of(track, _offset);
        byte[] table = new byte[track.MostCount * LevelFile.TableRow];
        for (int slot = 0; slot < track.MostCount; slot++)
        {
            Span<byte> row = table.AsSpan(slot * LevelFile.TableRow);
            row[0] = track.FirstLevel(slot);
            BinaryPrimitives.WriteInt32LittleEndian(row[1..], track.Changes(slot).Length);
        }

        Put(table);
        Put(track.Times);
        for (int slot = 0; slot < track.MostCount; slot++)
        {
            if (track.Changes(slot) is { IsEmpty: false } changes)
            {
                Put(changes);
            }
        }

        return entry;
    }

    private void Put(ReadOnlySpan<byte> octets)
    {
        Span<byte> sum = stackalloc byte[LevelFile.SumLength];
        BinaryPrimitives.WriteUInt32LittleEndian(sum, Octets.Sum(octets));
        _stream.Write(octets);
        _stream.Write(sum);
        _offset += octets.Length + sum.Length;
    }
}
