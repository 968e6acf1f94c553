namespace DmxProbe.Analysis.Timing;

/// <summary>How a measured figure stands against its limits (one rule, used everywhere).</summary>
public enum LimitVerdict
{
    /// <summary>Inside the transmit limits.</summary>
    Inside,

    /// <summary>Outside the transmit limits, inside what a receiver must accept.</summary>
    OutsideTransmit,

    /// <summary>Outside the receive limits: a conforming receiver may fail.</summary>
    OutsideReceive,

    /// <summary>Nearer to a limit than the measurement is fine, or too few frames stand behind a "never".</summary>
    Undecided,

    /// <summary>This kind of input cannot measure it.</summary>
    NotMeasurable,
}
