using DmxProbe.Analysis.Decoding.Line;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Timing.Line;

/// <summary>The packets of one kind on one line.</summary>
internal sealed class LinePopulation(LineRole role, double clockError)
{
    private readonly QuantityTrack?[] _tracks = new QuantityTrack?[Enum.GetValues<LineQuantity>().Length];

    public LineRole Role => role;

    /// <summary>START code of the first of them.</summary>
    public byte StartCode { get; private set; }

    /// <summary>Packets, cut ones included.</summary>
    public long Packets { get; private set; }

    /// <summary>When the last packet began that may begin an interval; null after a gap.</summary>
    public Timestamp? Last { get; set; }

    public IEnumerable<QuantityTrack> Tracks => _tracks.OfType<QuantityTrack>();

    public void Add(in LineTiming timing)
    {
        if (Packets++ == 0)
        {
            StartCode = timing.StartCode;
        }

        double sample = timing.SamplePeriod;
        Of(LineQuantity.Break).Add(timing.Break, sample);
        Of(LineQuantity.MarkAfterBreak).Add(timing.MarkAfterBreak, sample);
        Of(LineQuantity.BreakToBreak).Add(timing.BreakToBreak, sample);
        if (timing.IsDisturbed)
        {
            // Short pulses make or move characters: what rests on these is not measured.
            return;
        }

        const int bits = 11;
        Of(LineQuantity.SlotTime).Add(bits * timing.BitTime, bits * timing.BitTimeResolution);
        Of(LineQuantity.BitTime).Add(timing.BitTime, timing.BitTimeResolution);
        Of(LineQuantity.BitSkew).Add(timing.Skew, sample);
        Of(LineQuantity.InterSlot).Add(timing.InterSlotMost, sample);
        Of(LineQuantity.InterSlotMean).Add(timing.InterSlotMean, sample / Math.Max(1, timing.Characters - 1) + bits * timing.BitTimeResolution);
        Of(LineQuantity.MarkBeforeBreak).Add(timing.MarkBeforeBreak, sample);
        if (!timing.IsCut)
        {
            Of(LineQuantity.PacketTime).Add(timing.Length, sample);
            Of(LineQuantity.SlotCount).Add(timing.Characters - 1, 0);
        }
    }

    public QuantityTrack Of(LineQuantity quantity) => _tracks[(int)quantity] ??= new QuantityTrack(quantity, role, clockError);
}
