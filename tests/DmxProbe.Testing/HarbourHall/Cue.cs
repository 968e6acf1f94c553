namespace DmxProbe.Testing.HarbourHall;

/// <summary>A cue, or a hand on a fader.</summary>
/// <param name="At">When it starts, in ms from the start.</param>
/// <param name="Fade">How long it takes, in ms; 0 = snap.</param>
/// <param name="Name">What the operator calls it.</param>
/// <param name="Looks">
/// What it sets: <c>units: function value, function value</c>. Units are names parted by spaces; <c>LX1</c> means all
/// of LX1-1, LX1-2 and so on. A function with a fine byte takes 0 to 65535.
/// </param>
public sealed record Cue(long At, long Fade, string Name, params string[] Looks);
