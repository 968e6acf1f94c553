using System.Globalization;

using DmxProbe.Analysis.Diagnosis;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Cli.Text;

/// <summary>Words and figures of a diagnosis that several parts of its text use.</summary>
internal static class DiagnoseWords
{
    /// <summary>Columns of the words in front.</summary>
    public const int LabelWidth = 10;

    /// <summary>A time that a check takes.</summary>
    public static string Seconds(int seconds) => seconds < 120 ? $"{seconds} s" : $"{seconds / 60} min";

    /// <summary>What the wire does for a unit, in a word.</summary>
    public static string Word(FirstFork fork) => fork switch
    {
        FirstFork.Carries => "yes",
        FirstFork.StandsStill => "still",
        FirstFork.NotSent => "no",
        FirstFork.Contested => "disputed",
        _ => "unknown",
    };

    /// <summary>How sure a cause is, in a word.</summary>
    public static string Word(CauseState state) => state switch
    {
        CauseState.Proven => "proven",
        CauseState.Likely => "likely",
        CauseState.Possible => "possible",
        CauseState.Excluded => "excluded",
        _ => "open",
    };

    /// <summary>Where a cause sits, in a word.</summary>
    public static string Word(CauseGroup group) => group switch
    {
        CauseGroup.Addressing => "address",
        CauseGroup.UnitState => "unit",
        CauseGroup.LineTiming => "line",
        _ => group.ToString().ToLowerInvariant(),
    };

    /// <summary>A moment by the clock, or counted from 0 where the recording bears no date.</summary>
    public static string Moment(Timestamp time, WallClock clock) =>
        IsUndated(time) ? string.Create(CultureInfo.InvariantCulture, $"{time.UnixNanoseconds / 1e9:0.000} s of the recording") : clock.Time(time);

    /// <summary>Whether a moment is of a line recording that does not say when it was made: it counts from 0.</summary>
    public static bool IsUndated(Timestamp moment) => moment != default && WallClock.IsUndated(moment);

    /// <summary>Says how many more there are, unless all are shown.</summary>
    public static void Rest(TextPage page, int left, bool all)
    {
        if (!all && left > 0)
        {
            page.Paragraph($"and {Figures.Count(left)} more (--all shows all)", indent: 2);
        }
    }
}
