namespace DmxProbe.Analysis.Walk;

/// <summary>Something about a move that a person should look at.</summary>
/// <param name="Id">Our own kebab-case name of it.</param>
/// <param name="Move">The move.</param>
/// <param name="Text">One sentence; holds untrusted text.</param>
public sealed record WalkRemark(string Id, WalkMove Move, string Text);
