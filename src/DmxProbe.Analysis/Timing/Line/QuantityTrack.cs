namespace DmxProbe.Analysis.Timing.Line;

/// <summary>One quantity of one kind of packet: its distribution, and each packet's verdict.</summary>
internal sealed class QuantityTrack(LineQuantity quantity, LineRole role, double clockError)
{
    private const double SkewOffset = 64;
    private const int Verdicts = (int)LimitVerdict.NotMeasurable + 1;

    private readonly LimitRange? _transmit = LineLimits.For(role, quantity, out _);
    private readonly LimitRange? _receive = ReceiveOf(role, quantity);
    private readonly long[] _verdicts = new long[Verdicts];

    public LineQuantity Quantity => quantity;

    public Distribution Values { get; } = new(quantity is LineQuantity.BitSkew or LineQuantity.InterSlot ? SkewOffset : 0);

    /// <summary>Greatest resolution of the values.</summary>
    public double Resolution { get; private set; }

    public LimitRange? Transmit => _transmit;

    public LimitRange? Receive => _receive;

    public VerdictCounts Counts => new(
        _verdicts[(int)LimitVerdict.Inside],
        _verdicts[(int)LimitVerdict.OutsideTransmit],
        _verdicts[(int)LimitVerdict.OutsideReceive],
        _verdicts[(int)LimitVerdict.Undecided]);

    public double Uncertainty(double value) => quantity == LineQuantity.SlotCount ? 0 : Resolution + Math.Abs(value) * clockError;

    /// <summary>Counts a value of one packet; NaN is none.</summary>
    /// <param name="value">The value.</param>
    /// <param name="resolution">How finely it is known.</param>
    public void Add(double value, double resolution)
    {
        if (double.IsNaN(value))
        {
            return;
        }

        Values.Add(value);
        Resolution = Math.Max(Resolution, resolution);
        double uncertainty = quantity == LineQuantity.SlotCount ? 0 : resolution + Math.Abs(value) * clockError;

        // A packet is judged by itself: how many others there are says nothing about it.
        LimitVerdict verdict = LimitRule.Judge(value, value, long.MaxValue, uncertainty, _transmit, _receive, out _);
        _verdicts[(int)verdict]++;
    }

    private static LimitRange? ReceiveOf(LineRole role, LineQuantity quantity)
    {
        LineLimits.For(role, quantity, out LimitRange? receive);
        return receive;
    }
}
