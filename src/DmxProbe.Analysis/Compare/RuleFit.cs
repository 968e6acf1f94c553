namespace DmxProbe.Analysis.Compare;

/// <summary>How well a merge rule explains what the line carried.</summary>
/// <param name="Rule">The rule.</param>
/// <param name="Frames">Line frames held against it.</param>
/// <param name="Mismatched">Frames that it cannot explain.</param>
/// <param name="MismatchedSlots">Slots in those frames that differ from what it gives at that time.</param>
/// <param name="Changes">Changes of the output that it asks for while the line was watched.</param>
/// <param name="Passed">Of those, how many the line shows.</param>
public sealed record RuleFit(MergeRule Rule, long Frames, long Mismatched, long MismatchedSlots, long Changes, long Passed)
{
    /// <summary>Share of the changes asked for that the line never shows: a slower line, or a rule that asks for too many.</summary>
    public double UnseenShare => Changes == 0 ? 0 : 1 - ((double)Passed / Changes);

    /// <summary>Share of frames not explained; 1 where there are none.</summary>
    public double MismatchShare => Frames == 0 ? 1 : (double)Mismatched / Frames;
}
