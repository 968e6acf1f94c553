using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Diagnosis;
using DmxProbe.Testing.Diagnosis;

namespace DmxProbe.Analysis.Tests.Diagnosis;

/// <summary>How much must be captured before anything is excluded: 3 s of network, 3 frames of levels (docs/causes.md; our choice, no source).</summary>
public class SufficiencyTests
{
    private const long Millisecond = 1_000_000;

    [Theory]
    [InlineData(2_900, true)]
    [InlineData(3_900, false)] // the last packet may come a second before the end
    public void Under_three_seconds_of_network_nothing_is_excluded(int milliseconds, bool isTooShort)
    {
        FaultRig rig = new(4_711, UniverseProtocol.Sacn) { Length = milliseconds * Millisecond };
        DiagnosisCase it = rig.Case();
        Assert.InRange(it.NetworkLength.TotalSeconds, (milliseconds / 1000.0) - 0.9, milliseconds / 1000.0);
        DiagnosisResult result = Diagnoser.Run(it);
        foreach (string id in (string[])["equal-priority", "universe-not-sent"])
        {
            Assert.Equal(isTooShort, result.CannotTell.Any(report => report.Cause.Id == id && report.Missing == CauseInputs.Longer));
        }

        Assert.Equal(!isTooShort, result.Excluded.Any(report => report.Cause.Id == "equal-priority"));
    }

    [Theory]
    [InlineData(0, false)]
    [InlineData(2, false)]
    [InlineData(3, true)]
    public void Under_three_frames_of_levels_only_what_shows_in_other_packets_is_excluded(int frames, bool suffices)
    {
        DiagnosisCase whole = new FaultRig(4_711, UniverseProtocol.Sacn).Case();
        DiagnosisCase few = new(
            whole.Survey with { Universes = [whole.Survey.Universes[0] with { Streams = [whole.Survey.Universes[0].Streams[0] with { LevelFrames = frames }] }] },
            whole.Units)
        {
            Sheet = whole.Sheet,
        };
        DiagnosisResult result = Diagnoser.Run(few);
        Assert.Equal(suffices, result.Excluded.Any(report => report.Cause.Id == "equal-priority"));
        Assert.Equal(!suffices, result.CannotTell.Any(report => report.Cause.Id == "equal-priority" && report.Missing == CauseInputs.Levels));
        Assert.Contains(result.Excluded, report => report.Cause.Id == "address-conflict");
    }
}
