namespace DmxProbe.Reporting.Archive;

/// <summary>What a recording is of.</summary>
/// <param name="Show">Name of the show; untrusted text.</param>
/// <param name="Venue">Name of the venue; untrusted text, may be empty.</param>
/// <param name="Recording">Key of the recording: the same recording packed again has the same one.</param>
public sealed record ArchiveShow(string Show, string Venue, string Recording)
{
    /// <summary>True for a line recording, whose times count from its start: its folder is <c>date=undated</c>, which nobody takes for a night.</summary>
    public bool IsUndated { get; init; }

    /// <summary>The show as a folder.</summary>
    public string Folder => ArchiveNames.Slug(Show, "show");
}
