using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Network;

namespace DmxProbe.Testing.HarbourHall;

/// <summary>
/// What a phone on a tripod sees of LX1-6: 30 pictures a second. Response, lag, delay, a little light of the other
/// units and noise. Only operations whose result IEEE 754 fixes to the last bit, so that it is the same on every machine.
/// </summary>
public static class HarbourTrace
{
    /// <summary>From ArtDmx packet on the mirror port to the picture: gateway, line and camera.</summary>
    public const long Delay = 120_000_000;

    /// <summary>Time constant of the light following its slots.</summary>
    public const int LagMilliseconds = 80;

    private const long Millisecond = 1_000_000;
    private const long Frame = 33_333_333;
    private const long FrameJitter = 2_500_000;
    private const double BlackLevel = 0.15;
    private const double Gain = 0.6;
    private const double Spill = 0.02;

    // Variance of the light over variance of the noise: 15 dB = 10^1.5.
    private const double SignalToNoise = 31.622776601683793;

    /// <summary>One picture: seconds from the capture's first record, and the level of the light in it.</summary>
    public readonly record struct Sample(double Seconds, Rgb Level);

    /// <summary>Makes the trace.</summary>
    /// <param name="capture">The soundcheck.</param>
    /// <param name="addressRead">The address that LX1-6 really reads.</param>
    /// <param name="seed">Seed of noise and picture times.</param>
    public static IReadOnlyList<Sample> Of(SimulatedCapture capture, int addressRead, ulong seed)
    {
        SeededRandom random = new(seed);
        Rgb[] light = Light(capture, addressRead);
        long origin = (capture.Packets[0].Time - capture.Start).Nanoseconds;
        List<(long Time, Rgb Light)> pictures = [];
        for (long due = 1_000_000_000; due < HarbourHallScenario.Length - 1_000_000_000; due += Frame)
        {
            long time = due + random.Next(-FrameJitter, FrameJitter);
            pictures.Add((time, light[(time - Delay) / Millisecond]));
        }

        double noise = Math.Sqrt(Variance(pictures) / SignalToNoise);
        return [.. pictures.Select(p => new Sample(
            Math.Round((p.Time - origin) / 1e9, 4),
            new Rgb(Level(p.Light.R, random, noise), Level(p.Light.G, random, noise), Level(p.Light.B, random, noise))))];
    }

    /// <summary>The light of LX1-6 with what spills over from the others, for each millisecond from the capture's start.</summary>
    public static IReadOnlyList<Rgb> LightOf(SimulatedCapture capture, int addressRead) => Light(capture, addressRead);

    private static double Level(double light, SeededRandom random, double noise) =>
        Math.Round(Math.Clamp(BlackLevel + (Gain * light) + (Gain * noise * random.NextNormal()), 0, 1), 4);

    /// <summary>Light of LX1-6 with what spills over from the others, for each millisecond.</summary>
    private static Rgb[] Light(SimulatedCapture capture, int addressRead)
    {
        RigUnit unit = HarbourRig.Unit("LX1-6");
        RigUnit[] others = [.. HarbourRig.Units.Where(u => u != unit && u.Chart != HarbourCharts.Hazer)];
        CuePlayer show = new(HarbourRig.Units, HarbourCues.Preset, HarbourCues.List);
        SimulatedPacket[] packets =
        [
            .. capture.Packets.Where(
                p => p.Sent.Universe == HarbourHallScenario.UniverseOne && p.Sent.Kind == PacketKind.Levels),
        ];
        Rgb[] light = new Rgb[(HarbourHallScenario.Length / Millisecond) + 1];
        byte[][] universes = [new byte[512], new byte[512], new byte[512]];
        Rgb own = default;
        Rgb spill = default;
        Rgb lagging = default;
        int next = 0;
        for (int ms = 0; ms < light.Length; ms++)
        {
            Timestamp now = capture.Start + Duration.FromMilliseconds(ms);
            while (next < packets.Length && packets[next].Time <= now)
            {
                // 14 octets of Ethernet, 20 of IPv4, 8 of UDP, 18 of ArtDmx.
                packets[next++].Sent.Frame.AsSpan(60).CopyTo(universes[0]);
                own = Response(HarbourLight.Of(unit.Mode, universes[0].AsSpan(addressRead - 1, unit.Mode.Slots.Length)));
            }

            if (ms % 25 == 0)
            {
                show.Fill(2, ms * Millisecond, universes[1]);
                show.Fill(3, ms * Millisecond, universes[2]);
                spill = default;
                foreach (RigUnit other in others)
                {
                    spill += Response(HarbourLight.Of(other.Mode, other.Read(universes[other.Universe - 1])));
                }

                spill *= Spill / others.Length;
            }

            lagging += (own + (lagging * -1)) * (1.0 / LagMilliseconds);
            light[ms] = ms == 0 ? own + spill : lagging + spill;
            lagging = ms == 0 ? own : lagging;
        }

        return light;
    }

    /// <summary>The response of the LED drivers: level to the power 1.5.</summary>
    private static Rgb Response(Rgb level) => new(Power(level.R), Power(level.G), Power(level.B));

    private static double Power(double level) => level * Math.Sqrt(level);

    private static double Variance(List<(long Time, Rgb Light)> pictures)
    {
        double mean = pictures.Sum(p => p.Light.Luminance) / pictures.Count;
        return pictures.Sum(p => (p.Light.Luminance - mean) * (p.Light.Luminance - mean)) / pictures.Count;
    }
}
