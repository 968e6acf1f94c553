namespace DmxProbe.Analysis.Locate;

/// <summary>
/// The changes of one slot as bytes: samples since the change before, then the level. A distance of 255 or more is
/// written as 255 and four bytes.
/// </summary>
internal sealed class SlotChanges
{
    private const byte Far = 255;
    private byte[] _bytes = [];
    private int _length;
    private int _last;
    private int _lastStart = -1;

    public byte Current { get; private set; }

    public bool IsEmpty => _length == 0;

    public void Add(int sample, byte level)
    {
        if (_lastStart >= 0 && sample == _last)
        {
            // Within one sample the later level wins.
            _bytes[_length - 1] = level;
            Current = level;
            return;
        }

        if (_length + 6 > _bytes.Length)
        {
            Array.Resize(ref _bytes, Math.Max(16, _bytes.Length * 2));
        }

        _lastStart = _length;
        int distance = sample - _last;
        if (distance < Far)
        {
            _bytes[_length++] = (byte)distance;
        }
        else
        {
            _bytes[_length++] = Far;
            BitConverter.TryWriteBytes(_bytes.AsSpan(_length, 4), distance);
            _length += 4;
        }

        _bytes[_length++] = level;
        _last = sample;
        Current = level;
    }

    public IEnumerable<(int Sample, byte Level)> Read()
    {
        int sample = 0;
        int place = 0;
        while (Next(ref place, ref sample, out byte level))
        {
            yield return (sample, level);
        }
    }

    /// <summary>Reads the change at a place in the bytes and moves on; false at the end.</summary>
    public bool Next(ref int place, ref int sample, out byte level)
    {
        if (place >= _length)
        {
            level = 0;
            return false;
        }

        int distance = _bytes[place++];
        if (distance == Far)
        {
            distance = BitConverter.ToInt32(_bytes, place);
            place += 4;
        }

        sample += distance;
        level = _bytes[place++];
        return true;
    }
}
