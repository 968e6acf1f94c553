namespace DmxProbe.Reporting.Json;

/// <summary>What was packed, as JSON.</summary>
public static class PackJson
{
    /// <summary>Writes it.</summary>
    /// <param name="output">Where to, as UTF-8; left open.</param>
    /// <param name="packed">What was packed.</param>
    public static void Write(Stream output, PackResult packed) => JsonPage.Write(output, "record pack", json =>
    {
        json.Text("archive", packed.Archive);
        json.WriteString("show", packed.Folder);
        json.WriteString("recording", packed.Recording);
        json.WriteNumber("frames", packed.Frames);
        json.WriteNumber("levels", packed.Values);
        json.WriteNumber("files", packed.Files);
        json.WriteNumber("octets", packed.Octets);
        json.WriteNumber("recordingOctets", packed.RecordingOctets);
        json.WriteBoolean("whole", !packed.IsCut);
        json.Texts("notes", packed.Notes);
    });
}
