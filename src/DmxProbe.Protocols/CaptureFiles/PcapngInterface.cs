using DmxProbe.Protocols.Records;

namespace DmxProbe.Protocols.CaptureFiles;

/// <summary>What the reader keeps of one interface of the current section.</summary>
internal sealed class PcapngInterface(CaptureInterface description, ClockScale clock)
{
    // Far more than any capture can lose, small enough that adding up a whole file of them cannot overflow.
    private const long MostLost = uint.MaxValue;

    private ulong _reported;

    /// <summary>As shown to the caller.</summary>
    public CaptureInterface Description { get; } = description;

    /// <summary>Its clock.</summary>
    public ClockScale Clock { get; } = clock;

    /// <summary>A packet says how many were lost since the one before it.</summary>
    /// <returns>The number to report.</returns>
    public long AddLost(ulong lost)
    {
        _reported = unchecked(_reported + lost) < lost ? ulong.MaxValue : _reported + lost;
        return (long)Math.Min(lost, MostLost);
    }

    /// <summary>Statistics say how many were lost since the capture began.</summary>
    /// <returns>The number not yet reported with packets or earlier statistics.</returns>
    public long SetTotalLost(ulong total)
    {
        if (total <= _reported)
        {
            return 0;
        }

        ulong lost = total - _reported;
        _reported = total;
        return (long)Math.Min(lost, MostLost);
    }
}
