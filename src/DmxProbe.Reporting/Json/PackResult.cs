namespace DmxProbe.Reporting.Json;

/// <summary>What was packed.</summary>
/// <param name="Archive">The folder of the archive as the person named it.</param>
/// <param name="Folder">The show as a folder in it.</param>
/// <param name="Recording">Key of the recording in the tables.</param>
/// <param name="Frames">Frames packed.</param>
/// <param name="Values">Levels packed: slots of all frames.</param>
/// <param name="Files">Files written.</param>
/// <param name="Octets">Their octets.</param>
/// <param name="RecordingOctets">Octets of the recording.</param>
/// <param name="Notes">What was left out or ended early.</param>
public sealed record PackResult(
    string Archive, string Folder, string Recording, long Frames, long Values, int Files, long Octets, long RecordingOctets, IReadOnlyList<string> Notes)
{
    /// <summary>True where the recording is cut or damaged: what is whole of it was packed.</summary>
    public bool IsCut { get; init; }
}
