using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Network;

namespace DmxProbe.Testing.HarbourHall;

/// <summary>
/// A clip of Harbour Hall with known truth, as raw pictures: LX1-6 on the left, which really reads 1.016, and a second wash
/// on the right, before a steadily lit wall. A camera's tone curve, noise, and on request an exposure that wanders.
/// </summary>
public sealed class HarbourVideo
{
    /// <summary>Pixels across.</summary>
    public const int Width = 192;

    /// <summary>Pixels down.</summary>
    public const int Height = 108;

    /// <summary>Pictures a second.</summary>
    public const int Rate = 30;

    /// <summary>Centre and radius of LX1-6, pixels.</summary>
    public static readonly (int X, int Y, int Radius) Light = (52, 50, 12);

    /// <summary>The other wash.</summary>
    public static readonly (int X, int Y, int Radius) Neighbour = (146, 46, 9);

    private const long FirstPicture = 2_000_000_000;
    private readonly IReadOnlyList<Rgb> _light;
    private readonly IReadOnlyList<Rgb> _neighbour;

    /// <summary>Prepares a clip.</summary>
    /// <param name="capture">The soundcheck.</param>
    /// <param name="addressRead">The address that LX1-6 really reads.</param>
    /// <param name="neighbourReads">The address that the other wash reads.</param>
    public HarbourVideo(SimulatedCapture capture, int addressRead, int neighbourReads)
    {
        _light = HarbourTrace.LightOf(capture, addressRead);
        _neighbour = HarbourTrace.LightOf(capture, neighbourReads);
        Start = capture.Start + Duration.FromMilliseconds(FirstPicture / 1_000_000);
    }

    /// <summary>When the first picture is taken.</summary>
    public Timestamp Start { get; }

    /// <summary>How far the exposure wanders: 0.2 is plus and minus a fifth.</summary>
    public double Drift { get; init; }

    /// <summary>How bright full light is: 1 is the camera's end.</summary>
    public double Brightness { get; init; } = 0.6;

    /// <summary>Pictures.</summary>
    public int Count { get; init; } = 56 * Rate;

    /// <summary>Writes the pictures: red, green, blue of each pixel.</summary>
    public void Write(Stream output)
    {
        SeededRandom random = new(77);
        byte[] noise = new byte[1 << 16];
        for (int i = 0; i < noise.Length; i++)
        {
            noise[i] = (byte)Math.Clamp(128 + Math.Round(1.5 * random.NextNormal()), 100, 156);
        }

        byte[] picture = new byte[3 * Width * Height];
        for (int n = 0; n < Count; n++)
        {
            long time = FirstPicture + (n * 1_000_000_000L / Rate) - HarbourTrace.Delay;
            double gain = 1 + (Drift * Math.Sin(2 * Math.PI * n / (Rate * 23.0)));
            Draw(picture, _light[(int)(time / 1_000_000)], _neighbour[(int)(time / 1_000_000)], gain, noise, (int)random.Next(0, noise.Length - 1));
            output.Write(picture);
        }
    }

    private void Draw(byte[] picture, Rgb light, Rgb neighbour, double gain, byte[] noise, int from)
    {
        for (int y = 0; y < Height; y++)
        {
            for (int x = 0; x < Width; x++)
            {
                double wall = 0.06 + (0.10 * x / Width) + (0.05 * y / Height);
                Rgb seen = (light * (Brightness * Beam(x, y, Light))) + (neighbour * (Brightness * Beam(x, y, Neighbour))) + new Rgb(wall, wall, wall);
                int at = 3 * ((y * Width) + x);
                picture[at] = Code(seen.R * gain, noise[(from + at) & 0xFFFF]);
                picture[at + 1] = Code(seen.G * gain, noise[(from + at + 1) & 0xFFFF]);
                picture[at + 2] = Code(seen.B * gain, noise[(from + at + 2) & 0xFFFF]);
            }
        }
    }

    private static double Beam(int x, int y, (int X, int Y, int Radius) place)
    {
        double distance = Math.Sqrt(((x - place.X) * (x - place.X)) + ((y - place.Y) * (y - place.Y)));
        return distance <= place.Radius ? 1 : Math.Exp(-(distance - place.Radius) / 3.0);
    }

    // Rec. ITU-R BT.709, item 1.2, from light to code.
    private static byte Code(double light, byte noise)
    {
        double clamped = Math.Clamp(light, 0, 1);
        double value = clamped < 0.018 ? 4.5 * clamped : (1.099 * Math.Pow(clamped, 0.45)) - 0.099;
        return (byte)Math.Clamp(Math.Round(255 * value) + noise - 128, 0, 255);
    }
}
