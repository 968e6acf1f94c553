using System.Globalization;
using DmxProbe.Testing.HarbourHall;

namespace DmxProbe.Benchmarks;

/// <summary>
/// <c>harbour-clip [DRIFT [BRIGHTNESS]]</c>: the raw pictures of the rendered clip of Harbour Hall on the standard output, for ffmpeg
/// (<c>-f rawvideo -pix_fmt rgb24 -s 192x108 -r 30 -i -</c>).
/// </summary>
public static class HarbourClip
{
    /// <summary>Writes the pictures.</summary>
    public static int Run(string[] arguments)
    {
        double Number(int at, double otherwise) => arguments.Length > at ? double.Parse(arguments[at], CultureInfo.InvariantCulture) : otherwise;
        using Stream output = Console.OpenStandardOutput();
        new HarbourVideo(HarbourHallScenario.Capture(HarbourHallFaults.All), HarbourRig.SwappedAddress, 49)
        {
            Drift = Number(0, 0),
            Brightness = Number(1, 0.6),
        }.Write(output);
        return 0;
    }
}
