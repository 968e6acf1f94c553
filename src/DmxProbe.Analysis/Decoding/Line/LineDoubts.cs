using System.Globalization;

namespace DmxProbe.Analysis.Decoding.Line;

/// <summary>A doubt in a sentence: what does not fit, and what to do.</summary>
public static class LineDoubts
{
    /// <summary>The sentence; empty without a doubt.</summary>
    /// <param name="channel">The channel.</param>
    /// <param name="who">What to call it.</param>
    public static string Sentence(LineChannelSummary channel, string who) => channel.Doubt switch
    {
        LineDoubt.Polarity => $"{who}: read with {(channel.Polarity == LinePolarity.MarkHigh ? "high" : "low")} as mark, as told, it does not look like DMX512; the other way round it does. "
            + "Is the polarity right? Leave --polarity out to have it found.",
        LineDoubt.Rate when channel.IsToldRateOff && !channel.HasSpoiltStarts => string.Create(
            CultureInfo.InvariantCulture,
            $"{who}: does not look like 250 kbit/s: by the sampling rate that was told a bit lasts {channel.BitTime:0.###} us instead of 4, and every figure rests on that rate. Is --rate right? If it is, the sender is off."),
        LineDoubt.Rate => $"{who}: does not look like 250 kbit/s: "
            + (channel.HasSpoiltStarts
                ? $"{Of(channel.SpoiltStarts, channel.Packets)} START codes have no stop bit. "
                : $"{(channel.Packets == 1 ? "the packet has no" : $"none of {Count(channel.Packets)} packets has a")} START code that is in use{(channel.FittingBits == 0 ? ", and no bits of 4 us" : "")}. ")
            + "Is the sampling rate right, and the channel a DMX line?",
        LineDoubt.Disturbed => $"{who}: disturbed: short pulses stand in {Of(channel.DisturbedPackets, channel.Packets)} packets, so bits and slots are not sure. "
            + "Check the probe's ground, the threshold and the termination; of a pair, record the other leg as well.",
        _ => "",
    };

    private static string Of(long part, long all) => $"{Count(part)} of {Count(all)}";

    private static string Count(long count) => count.ToString("N0", CultureInfo.InvariantCulture);
}
