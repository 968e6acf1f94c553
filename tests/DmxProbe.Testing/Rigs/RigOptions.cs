namespace DmxProbe.Testing.Rigs;

/// <summary>One cell of the accuracy table; the defaults are the base: busy, 60 s, 10 dB, no spill, chart known, luminance.</summary>
public sealed record RigOptions
{
    /// <summary>What runs.</summary>
    public RigShowKind Show { get; init; } = RigShowKind.Busy;

    /// <summary>Length of the trace.</summary>
    public int Seconds { get; init; } = 60;

    /// <summary>How much of it the trace sees, from the beginning; 0 = all.</summary>
    public int TraceSeconds { get; init; }

    /// <summary>Variance of the noise-free light over that of the white noise at 30 samples a second, dB.</summary>
    public double SnrDecibels { get; init; } = 10;

    /// <summary>Red, green and blue instead of luminance.</summary>
    public bool Rgb { get; init; }

    /// <summary>Spill of this much of the mean of the other lights.</summary>
    public double SpillOfMean { get; init; }

    /// <summary>Spill of this much of the sum of the other lights.</summary>
    public double SpillOfSum { get; init; }

    /// <summary>Deviation of the logarithm of how much of each other light there is; 0 = as much of each.</summary>
    public double SpillSpread { get; init; }

    /// <summary>All seven modes are open and the light may be in another than the sheet's.</summary>
    public bool SevenModes { get; init; }

    /// <summary>The remaining slots carry other moving data.</summary>
    public bool Dense { get; init; }

    /// <summary>Emitters off by 25 %, any response, any lag, drifting gain, camera crosstalk.</summary>
    public bool Rough { get; init; }

    /// <summary>
    /// Only lights that a strobe, a programme or a control action takes over at some time (the wrong address puts a
    /// moving value on such a slot); in all other cells only lights that are predictable throughout.
    /// </summary>
    public bool TakenOver { get; init; }

    /// <summary>What takes the readings; a sensor on the grid of the histories by itself.</summary>
    public RigSensor Sensor { get; init; }

    /// <summary>Pictures a second of a phone.</summary>
    public double PicturesPerSecond { get; init; } = 30;

    /// <summary>What the light follows.</summary>
    public RigTruth Truth { get; init; }
}
