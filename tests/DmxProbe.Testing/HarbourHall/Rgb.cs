namespace DmxProbe.Testing.HarbourHall;

/// <summary>Light in three parts, linear, 1 = full.</summary>
public readonly record struct Rgb(double R, double G, double B)
{
    public static Rgb operator +(Rgb left, Rgb right) => new(left.R + right.R, left.G + right.G, left.B + right.B);

    public static Rgb operator *(Rgb light, double factor) => new(light.R * factor, light.G * factor, light.B * factor);

    /// <summary>Mean of the three parts.</summary>
    public double Luminance => (R + G + B) / 3;
}
