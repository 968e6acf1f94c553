using DmxProbe.Analysis.Decoding.Line;
using DmxProbe.Analysis.Survey;

namespace DmxProbe.Analysis.Findings.Rules;

/// <summary>What the channels of a line recording show besides levels: a reversed pair, two transmitters, framing errors, silence.</summary>
internal sealed class LineRule : ISurveyRule
{
    private const string CommonPractice = "common practice, no source";

    // Trade thresholds, no source: over 1 in 10,000 slots is two errors a second at 44 Hz.
    private const double ManyErrors = 1e-4;
    private const double Contention = 0.01;
    private const double OffGrid = 0.05;
    private const int FewestCharacters = 50;
    private const double CoarseMicroseconds = 1.0;

    private static readonly string[] BeforeUnplugging =
        ["Before a line is unplugged or re-made: people clear, work light on, nothing moving; lights may strike, move or go out."];

    public IEnumerable<Finding> Judge(SurveySnapshot snapshot)
    {
        foreach (LineChannelSummary channel in snapshot.Lines)
        {
            foreach (Finding finding in Judge(channel))
            {
                yield return finding with { From = channel.First, To = channel.First + channel.Length };
            }
        }

        if (snapshot.Lines.Count > 0 && snapshot.Lines.All(channel => channel.Line is null))
        {
            bool noBreak = snapshot.Lines.Any(channel => channel.IsWithoutBreak);
            bool silent = snapshot.Lines.All(channel => channel.Use == LineChannelUse.Silent);
            yield return new Finding
            {
                Id = silent ? "line-not-connected" : "line-not-dmx",
                Severity = Severity.Warning,
                Subject = Names(snapshot.Lines),
                Text = silent
                    ? $"No channel of the recording ever changes its level ({Names(snapshot.Lines)}): nothing is connected, or nothing is sent."
                    : noBreak
                    ? $"Characters of 250 kbit/s and no break ({Names([.. snapshot.Lines.Where(channel => channel.IsWithoutBreak)])}): the recording ends before a packet begins, or no break is sent."
                    : $"No channel of the recording carries DMX512 that can be read ({Names(snapshot.Lines)}).",
                Action = silent
                    ? "Check the probe, its ground and the receiver's power; then whether the sender is on."
                    : noBreak ? "Record 2 s or more."
                    : "Check the sampling rate (1 MHz at least, 4 MHz or more wanted), the threshold and the ground; record again.",
                From = snapshot.Lines[0].First,
                To = snapshot.Lines[0].First + snapshot.Lines[0].Length,
            };
        }
    }

    private static string Names(IReadOnlyList<LineChannelSummary> lines) => Words.List(lines.Select(line => line.Name.Length > 0 ? $"'{line.Name}'" : line.Line?.Label ?? "a channel without a name"));

    private static IEnumerable<Finding> Judge(LineChannelSummary channel)
    {
        if (channel.Line is not { } line)
        {
            yield break;
        }

        string who = channel.Name.Length > 0 ? $"{line.Label} '{channel.Name}'" : line.Label;
        Finding about = new() { Id = "", Severity = Severity.Info, Subject = line.Label, Text = "" };
        bool contended = channel.Characters >= FewestCharacters
            && channel.FramingErrors > Contention * channel.Characters
            && channel.EdgesOffGrid > OffGrid * channel.Pulses;
        if (contended)
        {
            yield return about with
            {
                Id = "two-transmitters",
                Severity = Severity.Fault,
                Text = $"{who}: two transmitters drive the line at once, as far as edges show: {Words.Percent(Share(channel.FramingErrors, channel.Characters))} of its "
                    + $"characters lack a stop bit and {Words.Percent(Share(channel.EdgesOffGrid, channel.Pulses))} of its edges stand between bits.",
                Measured = $"{Words.Count(channel.FramingErrors, "framing error")} in {Words.Count(channel.Characters, "character")}",
                Limit = "1 % of the characters, 5 % of the edges",
                LimitSource = CommonPractice,
                Action = "Find the second sender (a unit set to master, a controller left on a split) and take it off; if there is none, suspect the cable.",
                Cautions = BeforeUnplugging,
            };
        }
        else if (channel.FramingErrors > 0)
        {
            bool many = channel.FramingErrors > ManyErrors * channel.Characters;
            yield return about with
            {
                Id = "framing-errors",
                Severity = many ? Severity.Fault : Severity.Warning,
                Text = $"{who}: {Words.Count(channel.FramingErrors, "character")} without a stop bit, most at "
                    + Words.List(channel.FramingErrorSlots.Take(3).Select(place => place.Slot == 0
                        ? $"the START code ({place.Count})"
                        : Words.Invariant($"slot {place.Slot} ({place.Count})"))) + "; receivers drop or misread such packets.",
                Measured = $"{Words.Count(channel.FramingErrors, "framing error")} in {Words.Count(channel.Characters, "character")}",
                Limit = "1 in 10,000",
                LimitSource = CommonPractice,
                Action = "Record at the start and at the end of the line: errors at the end alone are the cable's or the terminator's.",
                Cautions = BeforeUnplugging,
            };
        }

        if (channel.Doubt is LineDoubt.Rate or LineDoubt.Disturbed)
        {
            yield return about with
            {
                Id = channel.Doubt == LineDoubt.Rate ? "line-rate-doubtful" : "line-disturbed",
                Severity = Severity.Fault,
                Text = LineDoubts.Sentence(channel, who),
            };
        }

        if (channel.IsPolarityDoubtful || (channel.Polarity == LinePolarity.MarkLow && channel.Partner.Length == 0 && !channel.IsPolarityTold))
        {
            yield return Reversed(about, who, channel);
        }

        if (channel.Resolution.TotalMicroseconds > CoarseMicroseconds)
        {
            yield return about with
            {
                Id = "line-sampled-coarsely",
                Severity = Severity.Info,
                Text = Words.Invariant($"{who}: sampled every {channel.Resolution.TotalMicroseconds:0.##} us; a bit lasts 4 us, so few limits can be decided."),
                Action = "Record with 4 MHz or more.",
            };
        }

        if (channel.DamagedRdm > 0)
        {
            yield return about with
            {
                Id = "rdm-damaged",
                Severity = Severity.Warning,
                Text = $"{who}: {Words.Count(channel.DamagedRdm, "RDM packet")} with a wrong length or checksum (discovery replies not counted).",
                Action = "Look at the termination at both ends and at splitters in the line: RDM needs ones that pass both ways.",
            };
        }

        if (channel.StrayCharacters > 0)
        {
            yield return about with
            {
                Id = "characters-without-break",
                Severity = Severity.Warning,
                Text = $"{who}: {Words.Count(channel.StrayCharacters, "character")} came without a break and answer no discovery.",
            };
        }
    }

    private static Finding Reversed(Finding about, string who, LineChannelSummary channel) => about with
    {
        Id = "reversed-pair",
        Severity = channel.IsPolarityDoubtful ? Severity.Fault : Severity.Warning,
        Text = channel.IsPolarityDoubtful
            ? $"{who}: read with {(channel.Polarity == LinePolarity.MarkHigh ? "high" : "low")} as mark, as told, it is nonsense; the other way round it is DMX512: the pair is reversed, or the probe sits on the other leg."
            : $"{who}: upside down: it idles low and its breaks are high. Either data + and data - are swapped (pins 2 and 3), or the probe sits on data -. Decoded with low as mark.",
        Measured = "a receiver on such a pair reads 254 - 4 x (value mod 64), with a framing error wherever bit 6 is set",
        Action = channel.IsPolarityDoubtful
            ? "To decode it anyway leave --polarity out."
            : "If the probe sat on data +, find the swapped pair or adapter; to hear what a receiver hears, use --polarity mark-high.",
        Cautions = BeforeUnplugging,
    };

    private static double Share(long part, long whole) => whole == 0 ? 0 : (double)part / whole;
}
