using System.Globalization;

using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Timing;
using DmxProbe.Analysis.Timing.Line;

namespace DmxProbe.Cli;

/// <summary>What a report did not test, as far as the program can know it.</summary>
internal static class ReportUntested
{
    /// <summary>A sentence each.</summary>
    /// <param name="read">The inputs.</param>
    /// <param name="survey">The survey of all together.</param>
    /// <param name="sheet">The sheet; null without one.</param>
    /// <param name="map">The map of universes; null without a sheet.</param>
    /// <param name="isLocated">Whether a measured light was given.</param>
    public static IEnumerable<string> Of(IReadOnlyList<ReportInput> read, SurveySnapshot survey, SheetInUse? sheet, UniverseMap? map, bool isLocated)
    {
        if (read.All(input => !input.IsLine))
        {
            yield return "Break, mark after break and bit times of DMX lines: no line recording was given, and a network does not show them";
        }

        if (read.All(input => input.IsLine))
        {
            yield return "Who makes the levels, losses and priorities on the network: no network capture was given";
        }

        if (sheet is null)
        {
            yield return "Whether the units get what they should: no patch sheet was given";
        }
        else
        {
            foreach (int number in sheet.Patch.Universes.Where(universe => !map!.Wire.ContainsKey(universe)))
            {
                yield return string.Create(CultureInfo.InvariantCulture, $"Universe {number} of the sheet: it was not captured, or which one it is stayed open (--map)");
            }
        }

        if (isLocated)
        {
            yield return "Which addresses the other lights really read: the measured light of one unit was given";
        }
        else
        {
            yield return "Which addresses the lights really read: what was sent says nothing of that; give the measured light of a unit (--trace), or do the function check (dmxprobe walk)";
        }

        foreach (TimedInput timed in read.Select(input => input.Timed))
        {
            string[] undecided = [.. timed.Figures.Where(figure => figure.Verdict == LimitVerdict.Undecided).Select(figure => LineTimings.Words(figure.Quantity)).Distinct()];
            if (undecided.Length > 0)
            {
                yield return $"{timed.Input}: {string.Join(", ", undecided)} stayed undecided (too few packets, or the recorder is too coarse for the limit)";
            }

            if (timed.Cut.Length > 0)
            {
                yield return $"{timed.Input} ends early: {timed.Cut}";
            }
        }

        long lost = survey.Inputs.Sum(input => input.LostByCapture);
        if (lost > 0)
        {
            yield return $"What was in {Figures.Count(lost, "record")} that the capture itself lost";
        }

        yield return "Anything outside the time covered, and what a unit does with the data it gets";
    }
}
