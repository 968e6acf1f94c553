using System.Globalization;

using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Decoding.Line;
using DmxProbe.Analysis.OverTime;
using DmxProbe.Analysis.Timing;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.CaptureFiles;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Plots;

namespace DmxProbe.Cli;

/// <summary>Draws the pictures of a report: the universes over time, rates, line figures, the slots of the units named.</summary>
/// <param name="host">The process.</param>
/// <param name="sheet">The sheet; null without one.</param>
/// <param name="units">Units to draw.</param>
/// <param name="files">What was said about line recordings.</param>
/// <param name="lines">What was said about lines.</param>
internal sealed class ReportPictures(ProgramHost host, SheetInUse? sheet, IReadOnlyList<string> units, LineFileOptions files, LineOptions lines)
{
    private const int MostHistograms = 6;

    /// <summary>The pictures, in their order.</summary>
    /// <param name="read">The inputs.</param>
    /// <param name="network">Those that are captures of the network.</param>
    /// <param name="map">The map of universes; null without a sheet.</param>
    /// <param name="clock">Writes times of day.</param>
    /// <param name="behind">How much later the clock of an input behind a link is.</param>
    public IEnumerable<Picture> All(
        IReadOnlyList<ReportInput> read, IReadOnlyList<string> network, UniverseMap? map, WallClock clock, IReadOnlyDictionary<string, Duration> behind)
    {
        foreach (ReportInput input in read.Where(input => !input.IsLine))
        {
            Duration late = behind.GetValueOrDefault(input.Name);
            string Told(Timestamp time) => clock.Time(time - late);
            if (ActivityPicture.Draw(input.OverTime, Told) is Picture activity)
            {
                yield return Named(activity, input.Name, network.Count > 1);
            }

            if (RatePicture.Draw(input.OverTime, Told) is Picture rate)
            {
                yield return Named(rate, input.Name, network.Count > 1);
            }
        }

        foreach (Picture histogram in Histograms(read))
        {
            yield return histogram;
        }

        foreach (Picture history in units.Count == 0 ? [] : Histories(network, map!, clock))
        {
            yield return history;
        }
    }

    private static Picture Named(Picture picture, string input, bool several) => several ? picture with { Title = $"{picture.Title}: {input}" } : picture;

    // What is outside or undecided first: a histogram of what is plainly inside tells little.
    private static IEnumerable<Picture> Histograms(IReadOnlyList<ReportInput> read) => read
        .SelectMany(input => input.Timed.Figures.Select(figure => (input.Name, Figure: figure)))
        .Where(row => row.Figure.Protocol == UniverseProtocol.Line && row.Figure.Quantity is "break" or "markAfterBreak" or "interSlot" or "breakToBreak")
        .OrderBy(row => row.Figure.Verdict == LimitVerdict.Inside ? 1 : 0)
        .Select(row => HistogramPicture.Draw(row.Figure, row.Name))
        .OfType<Picture>()
        .Take(MostHistograms);

    // One reading serves all units.
    private List<Picture> Histories(IReadOnlyList<string> network, UniverseMap map, WallClock clock)
    {
        List<(PatchUnit Unit, SlotOverTimeAnalyzer Slots)> drawn = [];
        foreach (PatchUnit unit in units.Select(name => LocateRun.UnitOf(sheet!.Patch, name)))
        {
            if (map.Wire.TryGetValue(unit.Universe, out UniverseId wire))
            {
                drawn.Add((unit, new SlotOverTimeAnalyzer(wire, unit.Address, PatchCheck.FootprintOf(unit, sheet!.Charts))));
            }
        }

        if (network.Count == 0 || drawn.Count == 0)
        {
            return [];
        }

        using ICaptureSource source = Inputs.OpenMerged(network, null, files);
        RecordDecoder decoder = new(lines);
        using WaitLine wait = new(host, "report");
        new Session(source, decoder, new FanOut([.. drawn.Select(each => each.Slots), wait])).Run(host.Stop);
        host.Stop.ThrowIfCancellationRequested();
        return [.. drawn.SelectMany(each => History(each.Unit, each.Slots, decoder, clock))];
    }

    private IEnumerable<Picture> History(PatchUnit unit, SlotOverTimeAnalyzer slots, RecordDecoder decoder, WallClock clock)
    {
        ChartMode? mode = sheet!.Charts.Find(unit.Type, unit.Mode);
        Dictionary<int, string> names = mode is null ? [] : mode.Slots.ToDictionary(slot => unit.Address + slot.Slot - 1, slot => slot.Function);
        return slots.Snapshot(decoder.Senders).GroupBy(slot => slot.Sender.Index)
            .Select(group => SlotPicture.Draw(
                string.Create(CultureInfo.InvariantCulture, $"{unit.Unit} ({unit.Universe}.{unit.Address:000}, {slots.Universe.Label}), as {SenderOf(group.First())} sends it"),
                [.. group],
                names,
                slots.Bins,
                clock.Time))
            .OfType<Picture>();
    }

    private static string SenderOf(SlotOverTime slot) => slot.Sender.Name.Length > 0 ? slot.Sender.Name : slot.Sender.Address;
}
