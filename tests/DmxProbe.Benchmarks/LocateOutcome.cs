using System.Diagnostics;
using DmxProbe.Analysis.Locate;
using DmxProbe.Testing.Rigs;

namespace DmxProbe.Benchmarks;

/// <summary>What became of one rig.</summary>
public sealed record LocateOutcome(long Seed, LocateResult Result, Hypothesis? Truth, double Milliseconds)
{
    /// <summary>A claim was made.</summary>
    public bool Claims => Result.Claim is LocateClaim.Found or LocateClaim.Class;

    /// <summary>The class named holds the truth.</summary>
    public bool IsRight => Claims && Truth is { } truth && Result.ClassMembers.Any(member => member.Hypothesis == truth);

    /// <summary>A claim that does not hold the truth.</summary>
    public bool IsWrong => Claims && !IsRight;

    /// <summary>The best guess, claimed or not, is in the class of the truth.</summary>
    public bool TopIsRight => Truth is { } truth && Result.ClassMembers.Any(member => member.Hypothesis == truth);

    /// <summary>Claims and "one of these" answers that hold the truth.</summary>
    public bool SetIsRight => IsRight || (Result.Claim == LocateClaim.OneOf && Truth is { } truth && Result.Candidates.Any(candidate => candidate.Hypothesis == truth));

    /// <summary>Claims and "one of these" answers that do not.</summary>
    public bool SetIsWrong => IsWrong || (Result.Claim == LocateClaim.OneOf && !SetIsRight);

    /// <summary>Draws the rig of a seed and runs the inference on it.</summary>
    public static LocateOutcome Of(LocateCell cell, long seed)
    {
        Rig rig = Rig.Draw(cell.Options, seed);
        long before = Stopwatch.GetTimestamp();
        LocateResult result = LocateInference.Run(rig.Question);
        return new LocateOutcome(seed, result, rig.Truth, Stopwatch.GetElapsedTime(before).TotalMilliseconds);
    }
}
