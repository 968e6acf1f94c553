namespace DmxProbe.Capture.Live;

/// <summary>Something a live source has to say while it listens: what it joined, what it does not hear, what it lost.</summary>
/// <param name="Id">Our own kebab-case name of it, for tests and scripts.</param>
/// <param name="IsWarning">True when what is measured is less than what was asked for.</param>
/// <param name="Text">One sentence for a person; may hold untrusted text (names of interfaces).</param>
public sealed record LiveNotice(string Id, bool IsWarning, string Text);
