namespace DmxProbe.Analysis.Video;

/// <summary>How a camera turned light into code values, and the way back.</summary>
public sealed class ToneCurve
{
    private readonly Func<double, double> _light;

    private ToneCurve(string name, Func<double, double> light)
    {
        Name = name;
        _light = light;
    }

    /// <summary>Rec. ITU-R BT.709, item 1.2: V = 4.5 L below 0.018, else 1.099 L^0.45 - 0.099.</summary>
    public static ToneCurve Bt709 { get; } = new("BT.709", value => value < 0.081 ? value / 4.5 : Math.Pow((value + 0.099) / 1.099, 1 / 0.45));

    /// <summary>Hybrid log-gamma of Rec. ITU-R BT.2100, table 5.</summary>
    public static ToneCurve HybridLogGamma { get; } = new("BT.2100 hybrid log-gamma", FromHybrid);

    /// <summary>Perceptual quantisation of Rec. ITU-R BT.2100, table 4; 1 is 10,000 cd/m2.</summary>
    public static ToneCurve PerceptualQuantiser { get; } = new("BT.2100 perceptual quantisation", FromQuantised);

    /// <summary>sRGB, IEC 61966-2-1.</summary>
    public static ToneCurve Srgb { get; } = new("sRGB", value => value <= 0.04045 ? value / 12.92 : Math.Pow((value + 0.055) / 1.055, 2.4));

    /// <summary>No curve: the values are light.</summary>
    public static ToneCurve Linear { get; } = new("linear", value => value);

    /// <summary>What it is called.</summary>
    public string Name { get; }

    /// <summary>The curve that a video names; BT.709 where it names none or one we do not know.</summary>
    public static ToneCurve Named(string transfer) => transfer switch
    {
        "arib-std-b67" => HybridLogGamma,
        "smpte2084" => PerceptualQuantiser,
        "iec61966-2-1" => Srgb,
        "linear" => Linear,
        _ => Bt709,
    };

    /// <summary>Light for a code value, both 0 to 1; values outside are taken as the nearest inside.</summary>
    public double Light(double value) => _light(double.IsNaN(value) ? 0 : Math.Clamp(value, 0, 1));

    /// <summary>Light for each of the 256 code values of a byte.</summary>
    public double[] Table() => [.. Enumerable.Range(0, 256).Select(code => Light(code / 255.0))];

    private static double FromHybrid(double value)
    {
        const double A = 0.17883277;
        const double B = 1 - (4 * A);
        double c = 0.5 - (A * Math.Log(4 * A));
        return value <= 0.5 ? value * value / 3 : (Math.Exp((value - c) / A) + B) / 12;
    }

    private static double FromQuantised(double value)
    {
        const double M1 = 2610.0 / 16384;
        const double M2 = 2523.0 / 4096 * 128;
        const double C1 = 3424.0 / 4096;
        const double C2 = 2413.0 / 4096 * 32;
        const double C3 = 2392.0 / 4096 * 32;
        double root = Math.Pow(value, 1 / M2);
        return Math.Pow(Math.Max(root - C1, 0) / (C2 - (C3 * root)), 1 / M1);
    }
}
