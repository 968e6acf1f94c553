namespace DmxProbe.Analysis.Index;

/// <summary>Walks over the changes of a slot as <see cref="LevelTrack"/> wrote them.</summary>
internal ref struct SlotChanges(ReadOnlySpan<byte> octets, byte first, int frames)
{
    private OctetReader _reader = new(octets);

    /// <summary>The frame at which the level became what it is, from 0.</summary>
    public int Frame { get; private set; }

    /// <summary>The level.</summary>
    public byte Level { get; private set; } = first;

    /// <summary>Whether the octets are no such changes.</summary>
    public bool IsBroken { get; private set; }

    /// <summary>Goes to the next change.</summary>
    public bool Next()
    {
        if (_reader.IsAtEnd || IsBroken)
        {
            return false;
        }

        byte octet = _reader.Octet();
        if (octet < LevelTrack.Apart)
        {
            int level = Level + octet - LevelTrack.FarStep;
            Frame++;
            IsBroken = level is < 0 or > byte.MaxValue;
            Level = unchecked((byte)level);
        }
        else
        {
            int apart = octet & 0x7F;
            apart += apart == LevelTrack.FarApart ? _reader.Count(int.MaxValue - LevelTrack.FarApart) : 0;
            IsBroken = apart > frames - Frame;
            Frame = IsBroken ? Frame : Frame + apart;
            Level = _reader.Octet();
        }

        IsBroken |= _reader.IsBroken || Frame >= frames;
        return !IsBroken;
    }
}
