using DmxProbe.Testing.Network;

namespace DmxProbe.Testing.Line;

/// <summary>
/// Makes the signal of a DMX512 line: packets with any timing, right or wrong, and the truth about each. The same seed
/// gives the same signal everywhere.
/// </summary>
public sealed class LineSynthesiser(ulong seed)
{
    private const double Microsecond = 1_000;

    private readonly SeededRandom _random = new(seed);
    private readonly List<SentLinePacket> _sent = [];

    /// <summary>The signal so far.</summary>
    public LineSignal Signal { get; } = new();

    /// <summary>What was sent.</summary>
    public IReadOnlyList<SentLinePacket> Sent => _sent;

    /// <summary>Idle line.</summary>
    public LineSynthesiser Idle(double microseconds)
    {
        Signal.Hold(mark: true, microseconds * Microsecond);
        return this;
    }

    /// <summary>A packet with its break.</summary>
    /// <param name="form">Its timing.</param>
    /// <param name="octets">START code and slots.</param>
    public LineSynthesiser Packet(LineForm form, params ReadOnlySpan<byte> octets)
    {
        double breakStart = Space(form.Break, form);
        double breakEnd = Mark(form.MarkAfterBreak, form);
        double firstStart = Signal.Now;
        List<int> lost = Characters(form, octets);
        double end = Signal.Now;
        Mark(form.MarkBeforeBreak, form);
        _sent.Add(new SentLinePacket(octets.ToArray(), breakStart, breakEnd, firstStart, end, lost));
        return this;
    }

    /// <summary>A packet of levels: START code 00h and slots.</summary>
    public LineSynthesiser Levels(LineForm form, params ReadOnlySpan<byte> slots) => Packet(form, [0, .. slots]);

    /// <summary>Characters without a break, as an answer to discovery has them.</summary>
    public LineSynthesiser Unbroken(LineForm form, params ReadOnlySpan<byte> octets)
    {
        double start = Signal.Now;
        Characters(form, octets);
        double end = Signal.Now;
        Mark(form.MarkBeforeBreak, form);
        _sent.Add(new SentLinePacket(octets.ToArray(), start, start, start, end, []));
        return this;
    }

    private double Space(double microseconds, LineForm form)
    {
        double at = Signal.Now;
        Signal.Hold(mark: false, microseconds * Microsecond + Wobble(form));
        return at;
    }

    private double Mark(double microseconds, LineForm form)
    {
        double at = Signal.Now;
        Signal.Hold(mark: true, Math.Max(0, microseconds * Microsecond + Wobble(form)));
        return at;
    }

    private double Wobble(LineForm form) =>
        form.Jitter == 0 ? 0 : (2 * _random.NextDouble() - 1) * form.Jitter * Microsecond;

    private List<int> Characters(LineForm form, ReadOnlySpan<byte> octets)
    {
        List<int> lost = [];
        double bit = form.Bit * Microsecond;
        double skew = form.Skew / 2 * Microsecond;
        for (int place = 0; place < octets.Length; place++)
        {
            bool isLost = form.LostStopChance > 0 && _random.Chance(form.LostStopChance);
            int frame = (octets[place] << 1) | (isLost ? 0 : ((1 << form.StopBits) - 1) << 9);
            int bits = 9 + form.StopBits;
            double start = Signal.Now;
            for (int at = 0; at < bits;)
            {
                // One pulse of equal bits; a pulse that rises at its end does so late by the skew.
                bool mark = ((frame >> at) & 1) != 0;
                int next = at + 1;
                while (next < bits && ((frame >> next) & 1) != 0 == mark)
                {
                    next++;
                }

                double until = start + next * bit + (mark || next == bits ? 0 : skew) + (next == bits ? 0 : Wobble(form));
                Signal.Hold(mark, until - Signal.Now);
                at = next;
            }

            if (form.GlitchChance > 0 && !isLost && _random.Chance(form.GlitchChance))
            {
                Signal.Glitch(1.5 * bit, form.GlitchWidth * Microsecond);
            }

            if (isLost)
            {
                lost.Add(place);
            }

            if (place < octets.Length - 1)
            {
                Mark(form.InterSlot, form with { Jitter = 0 });
            }
        }

        return lost;
    }
}
