using DmxProbe.Analysis.Decoding;

namespace DmxProbe.Analysis.Timing;

/// <summary>Limits on what senders put on the network, each with its source. E1.11 figures are from secondary sources.</summary>
public static class NetworkLimits
{
    private const double BreakAndMarkMicroseconds = 92 + 12;
    private const double FastestSlotMicroseconds = 11 * 3.92;
    private const double ShortestPacketMicroseconds = 1204;

    /// <summary>
    /// Highest rate at which a DMX512 line can carry a number of slots: shortest break and mark after break, no pauses, the
    /// clock at its fast limit (bit time 3.92 us), never below 1204 us from break to break. 44.995 Hz for 512 slots.
    /// </summary>
    /// <param name="slots">Slots after the START code, 0 to 512.</param>
    public static double LineRateHz(int slots) =>
        1e6 / Math.Max(ShortestPacketMicroseconds, BreakAndMarkMicroseconds + (slots + 1) * FastestSlotMicroseconds);

    /// <summary>Limits of the running rate for the slots sent.</summary>
    public static LimitRange RefreshRate(UniverseProtocol protocol, int slots) => new(
        null,
        LineRateHz(slots),
        (protocol == UniverseProtocol.Sacn
            ? "E1.31-2018 6.6.1: not above E1.11's maximum rate unless the user sets it so"
            : "Art-Net 4 (1.4dn) page 75: at most 44 Hz where DMX512 gateways listen")
        + "; computed for the slots sent with the clock 2 % fast (E1.11 figures from secondary sources)");

    /// <summary>Limits of the interval between repeats of unchanged levels, in ms.</summary>
    public static LimitRange KeepAlive(UniverseProtocol protocol) => protocol == UniverseProtocol.Sacn
        ? new LimitRange(null, 1000, "E1.31-2018 6.6.2: every 800 to 1000 ms; more often does no harm")
        : new LimitRange(null, 4400, "Art-Net 4 (1.4dn) page 72: about 4 s (10 % allowed here), 800 to 1000 ms recommended");

    /// <summary>Longest time between level frames that senders may leave, in ms.</summary>
    public static LimitRange SilenceTransmit(UniverseProtocol protocol) => protocol == UniverseProtocol.Sacn
        ? new LimitRange(null, 1000, "E1.31-2018 6.6.2")
        : new LimitRange(null, 4400, "Art-Net 4 (1.4dn) page 72: about 4 s (10 % allowed here)");

    /// <summary>Longest time between level frames that receivers must bear, in ms.</summary>
    public static LimitRange SilenceReceive(UniverseProtocol protocol) => protocol == UniverseProtocol.Sacn
        ? new LimitRange(null, 2500, "E1.31-2018 6.7.1")
        : new LimitRange(null, 10000, "Art-Net 4 (1.4dn) pages 76 and 77: a failed source is held 10 s in a merge");

    /// <summary>How many slots a frame may have.</summary>
    public static LimitRange SlotCount(UniverseProtocol protocol) => protocol == UniverseProtocol.Sacn
        ? new LimitRange(0, 512, "E1.31-2018 7.6")
        : new LimitRange(2, 512, "Art-Net 4 (1.4dn) page 74");
}
