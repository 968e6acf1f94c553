using DmxProbe.Protocols.Dmx512;

namespace DmxProbe.Analysis.Decoding.Line;

/// <summary>Reads a stretch of a channel under one polarity and only counts, to see whether it is DMX512.</summary>
internal sealed class LineProbe : ILinePacketHandler
{
    private const int FewestLevels = 3;

    private long _packets;
    private long _cleanPackets;
    private long _characters;
    private long _framingErrors;
    private long _levels;
    private long _breakTicks;

    /// <summary>Packets with a break of their own.</summary>
    public long Packets => _packets;

    /// <summary>Those whose START code is in use.</summary>
    public long KnownStarts { get; private set; }

    /// <summary>Their breaks, mean in ticks; 0 without one.</summary>
    public double MeanBreak => Share(_breakTicks, _packets);

    /// <summary>Their characters.</summary>
    public long Characters => _characters;

    /// <summary>Share of the characters that have no stop bit, 0 to 1.</summary>
    public double Spoilt => Share(_framingErrors, _characters);

    /// <summary>
    /// True where it is DMX512 under this polarity: packets, and half of them or nine of ten characters whole. Two
    /// transmitters at once spoil most characters and still leave breaks with START code 00h after them.
    /// </summary>
    public bool Decodes => _packets > 0
        && (_cleanPackets * 2 > _packets
            || _framingErrors * 10 < _characters
            || (_levels >= FewestLevels && _levels * 10 >= _packets));

    /// <summary>True where this polarity explains the stretch better than the other.</summary>
    /// <param name="other">The other polarity's reading.</param>
    public bool IsBetterThan(LineProbe other)
    {
        if (Decodes != other.Decodes)
        {
            return Decodes;
        }

        // Only few values read well both ways round (those without bit 6): then the START code tells, it is nearly always 00h.
        double wrong = Share(_framingErrors, _characters) - Share(other._framingErrors, other._characters);
        const double telling = 0.01;
        const double spoilt = 0.2;
        bool bothSpoilt = Share(_framingErrors, _characters) > spoilt && Share(other._framingErrors, other._characters) > spoilt;
        if (!bothSpoilt && Math.Abs(wrong) > telling)
        {
            return wrong < 0;
        }

        return Share(_levels, _packets) > Share(other._levels, other._packets);
    }

    /// <inheritdoc/>
    public void OnPacket(in LinePacket packet)
    {
        _packets++;
        _cleanPackets += packet.FramingErrors == 0 && packet.Characters > 1 ? 1 : 0;
        _characters += packet.Characters;
        _framingErrors += packet.FramingErrors;
        KnownStarts += StartCode.IsInUse(packet.Octets[0]) ? 1 : 0;
        _breakTicks += packet.BreakEnd - packet.BreakStart;
        _levels += packet.Octets[0] == 0 ? 1 : 0;
    }

    /// <inheritdoc/>
    public void OnFramingError(long at, int slot, byte value)
    {
    }

    /// <inheritdoc/>
    public void OnUnbroken(in LineUnbroken reply)
    {
    }

    /// <inheritdoc/>
    public void OnEmptyBreak(long at)
    {
    }

    private static double Share(long part, long whole) => whole == 0 ? 0 : (double)part / whole;
}
