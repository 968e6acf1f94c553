namespace DmxProbe.Capture.Recording;

/// <summary>Something the recorder has to say while it records.</summary>
/// <param name="Id">Our own kebab-case name of it.</param>
/// <param name="IsWarning">True when something is being lost or soon will be.</param>
/// <param name="Text">One sentence; may hold untrusted text (names of folders).</param>
public sealed record RecordingNotice(string Id, bool IsWarning, string Text);
