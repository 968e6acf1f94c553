using System.Diagnostics;
using System.Globalization;
using DmxProbe.Testing.Network;

namespace DmxProbe.Benchmarks;

/// <summary>Writes the capture that speed is measured on: <c>benchmark-capture FILE [MEGABYTES [UNIVERSES]]</c>.</summary>
internal static class WriteBenchmarkCapture
{
    public static int Run(string[] arguments)
    {
        if (arguments.Length == 0)
        {
            Console.Error.WriteLine("benchmark-capture FILE [MEGABYTES [UNIVERSES]]");
            return 2;
        }

        int megabytes = arguments.Length > 1 ? int.Parse(arguments[1], CultureInfo.InvariantCulture) : 500;
        int universes = arguments.Length > 2 ? int.Parse(arguments[2], CultureInfo.InvariantCulture) : 200;
        using FileStream stream = new(arguments[0], FileMode.Create, FileAccess.Write, FileShare.None, bufferSize: 0);
        long start = Stopwatch.GetTimestamp();
        long packets = BenchmarkCapture.Write(stream, universes, megabytes);
        double seconds = Stopwatch.GetElapsedTime(start).TotalSeconds;
        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"{packets:N0} packets, {stream.Length:N0} octets, {seconds:0.00} s, {stream.Length / 1e6 / seconds:0} MB/s"));
        return 0;
    }
}
