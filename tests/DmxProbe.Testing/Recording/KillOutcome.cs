namespace DmxProbe.Testing.Recording;

/// <summary>What was left after the recorder was killed.</summary>
/// <param name="Sent">Records sent until then.</param>
/// <param name="SentASecondBefore">Records sent until a second before.</param>
/// <param name="Left">Records in what is left.</param>
/// <param name="InOrder">True when they are the first ones sent, whole, in order and without a gap.</param>
/// <param name="LostTime">How far back the first record reaches that is not there.</param>
/// <param name="Cut">What the reader says about the end; null where it looks whole.</param>
public sealed record KillOutcome(long Sent, long SentASecondBefore, long Left, bool InOrder, TimeSpan LostTime, string? Cut);
