using System.Buffers.Binary;

namespace DmxProbe.Protocols.Serial;

/// <summary>
/// Finds messages in the octets of a framed interface. After garbage, a length that lies or a message cut short it goes on with
/// the next octet that could start one, also where that lies inside what it took for a message: nothing that came whole
/// after it is lost. Bounded by the longest payload; what it finds does not depend on how the octets were chunked.
/// </summary>
/// <remarks>
/// A message cut short can seem to end inside the next one, where a slot happens to be E7. It is told apart by the octet
/// behind it: where a payload holds what could be another header of its own label, the octet after E7 must be 7E, and the
/// message waits for it (1 in 10,000 with random slots). All others are given out with their last octet.
/// </remarks>
public sealed class FramedScanner
{
    private readonly byte[] _buffer;
    private readonly int _longest;
    private int _start;
    private int _end;

    /// <summary>Makes a scanner.</summary>
    /// <param name="longestPayload">Longest payload believed, in octets, 1 to 65535.</param>
    public FramedScanner(int longestPayload)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(longestPayload);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(longestPayload, ushort.MaxValue);
        _longest = longestPayload;

        // Twice the longest message, so that what is kept moves to the front seldom.
        _buffer = new byte[2 * (longestPayload + FramedMessage.HeaderLength + 2)];
    }

    /// <summary>Octets skipped so far because they are no part of a message.</summary>
    public long Skipped { get; private set; }

    /// <summary>Octets that wait for the rest of their message.</summary>
    public int Pending => _end - _start;

    /// <summary>Takes one octet. Call <see cref="TryTake"/> until it finds nothing before the next.</summary>
    public void Add(byte octet)
    {
        if (_end == _buffer.Length)
        {
            _buffer.AsSpan(_start, _end - _start).CopyTo(_buffer);
            _end -= _start;
            _start = 0;
            if (_end == _buffer.Length)
            {
                Reset(); // nobody took what was there
            }
        }

        if (_end == _start && octet != FramedMessage.Start)
        {
            Skipped++;
            return;
        }

        _buffer[_end++] = octet;
    }

    /// <summary>Forgets what waits, because octets are missing behind it; they count as skipped.</summary>
    public void Reset()
    {
        Skipped += Pending;
        _start = 0;
        _end = 0;
    }

    /// <summary>Looks for a whole message in what was taken so far.</summary>
    /// <param name="message">The message, valid until the next octet is taken.</param>
    public bool TryTake(out FramedMessage message)
    {
        message = default;
        while (true)
        {
            ReadOnlySpan<byte> waiting = _buffer.AsSpan(_start, _end - _start);
            if (waiting.Length < FramedMessage.HeaderLength)
            {
                return false;
            }

            int length = BinaryPrimitives.ReadUInt16LittleEndian(waiting[2..]);
            if (length > _longest)
            {
                Skip();
                continue;
            }

            int whole = FramedMessage.HeaderLength + length + 1;
            if (waiting.Length < whole)
            {
                return false;
            }

            if (waiting[whole - 1] != FramedMessage.End)
            {
                Skip();
                continue;
            }

            ReadOnlySpan<byte> payload = waiting.Slice(FramedMessage.HeaderLength, length);
            if (HoldsHeader(payload, waiting[1]))
            {
                if (waiting.Length == whole)
                {
                    return false;
                }

                if (waiting[whole] != FramedMessage.Start)
                {
                    Skip();
                    continue;
                }
            }

            message = new FramedMessage { Label = waiting[1], Payload = payload };
            _start += whole;
            SeekStart(0);
            return true;
        }
    }

    private bool HoldsHeader(ReadOnlySpan<byte> payload, byte label)
    {
        ReadOnlySpan<byte> sign = [FramedMessage.Start, label];
        for (int at = payload.IndexOf(sign); at >= 0;)
        {
            if (at + FramedMessage.HeaderLength > payload.Length
                || BinaryPrimitives.ReadUInt16LittleEndian(payload[(at + 2)..]) <= _longest)
            {
                return true;
            }

            int next = payload[(at + 1)..].IndexOf(sign);
            at = next < 0 ? -1 : at + 1 + next;
        }

        return false;
    }

    // What looked like a message is none: the next 7E behind its first octet may start one.
    private void Skip() => SeekStart(1);

    private void SeekStart(int from)
    {
        ReadOnlySpan<byte> rest = _buffer.AsSpan(_start + from, _end - _start - from);
        int next = rest.IndexOf(FramedMessage.Start);
        int skipped = from + (next < 0 ? rest.Length : next);
        Skipped += skipped;
        _start += skipped;
    }
}
