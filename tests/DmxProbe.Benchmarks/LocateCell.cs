using DmxProbe.Testing.Rigs;

namespace DmxProbe.Benchmarks;

/// <summary>A row of the accuracy table.</summary>
/// <param name="Name">Its name, as --cells takes it.</param>
/// <param name="IsHeadline">Whether it gets the full number of rigs.</param>
/// <param name="Options">Its rigs.</param>
public sealed record LocateCell(string Name, bool IsHeadline, RigOptions Options)
{
    /// <summary>All rows in their order.</summary>
    public static IReadOnlyList<LocateCell> All { get; } = [.. Make()];

    private static IEnumerable<LocateCell> Make()
    {
        RigOptions busy = new();
        RigOptions cued = busy with { Show = RigShowKind.Cued };
        yield return new("busy", true, busy);
        yield return new("cued", true, cued);
        yield return new("cued-rgb", true, cued with { Rgb = true });
        yield return new("soundcheck", true, busy with { Show = RigShowKind.Soundcheck });
        yield return new("rough-cued-rgb", true, cued with { Rough = true, Rgb = true });
        yield return new("busy-rgb", false, busy with { Rgb = true });
        foreach ((string name, RigOptions show) in new[] { ("busy", busy), ("cued", cued) })
        {
            yield return new(name + "-15s", false, show with { Seconds = 15 });
            yield return new(name + "-15s-rgb", false, show with { Seconds = 15, Rgb = true });
            yield return new(name + "-30s", false, show with { Seconds = 30 });
            yield return new(name + "-30s-rgb", false, show with { Seconds = 30, Rgb = true });
            if (name == "cued")
            {
                yield return new("cued-180s", false, show with { Seconds = 180 });
            }

            yield return new(name + "-20dB", false, show with { SnrDecibels = 20 });
            yield return new(name + "-3dB", false, show with { SnrDecibels = 3 });
            yield return new(name + "-0dB", false, show with { SnrDecibels = 0 });
            yield return new(name + "-mean.05", false, show with { SpillOfMean = 0.05 });
            yield return new(name + "-sum.02", false, show with { SpillOfSum = 0.02 });
            yield return new(name + "-sum.05", false, show with { SpillOfSum = 0.05 });
            yield return new(name + "-sum.05-uneven", false, show with { SpillOfSum = 0.05, SpillSpread = 0.7 });
            yield return new(name + "-7modes", false, show with { SevenModes = true });
            yield return new(name + "-dense", false, show with { Dense = true });
            yield return new(name + "-outside", false, show with { Truth = RigTruth.OutsideTheList });
            yield return new(name + "-rough", false, show with { Rough = true });
            yield return new(name + "-taken-over", false, show with { TakenOver = true });
            yield return new(name + "-few", false, show with { Truth = RigTruth.FewChanges });
            yield return new(name + "-another-show", false, show with { Truth = RigTruth.AnotherShow });
            yield return new(name + "-own-programme", false, show with { Truth = RigTruth.OwnProgramme });
            yield return new(name + "-same-cues", false, show with { Truth = RigTruth.SameCues });
        }

        foreach ((string name, RigOptions show) in new[] { ("busy", busy), ("cued", cued) })
        {
            foreach (double rate in new[] { 25.0, 30.0 })
            {
                RigOptions phone = show with { Sensor = RigSensor.Phone, PicturesPerSecond = rate };
                yield return new(FormattableString.Invariant($"{name}-phone{rate:0}"), false, phone);
                yield return new(FormattableString.Invariant($"{name}-phone{rate:0}-rgb"), false, phone with { Rgb = true });
                yield return new(FormattableString.Invariant($"{name}-video{rate:0}"), false, phone with { Sensor = RigSensor.Video, Rgb = true });
            }
        }

        yield return new("rough-cued-video30", false, cued with { Rough = true, Sensor = RigSensor.Video, Rgb = true });
        yield return new("cued-7modes-rgb", false, cued with { SevenModes = true, Rgb = true });
        yield return new("cued-sum.05-rgb", false, cued with { SpillOfSum = 0.05, Rgb = true });
        yield return new("cued-same-cues-rgb", false, cued with { Truth = RigTruth.SameCues, Rgb = true });
        yield return new("rough-busy-sum.02", false, busy with { Rough = true, SpillOfSum = 0.02 });
    }
}
