using DmxProbe.Capture.Recording;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Testing.Shows;

/// <summary>Records a source into a folder as the program does.</summary>
public static class RecordedShow
{
    /// <summary>Records to the end of the source.</summary>
    /// <param name="source">What is recorded; disposed.</param>
    /// <param name="folder">Where to.</param>
    /// <param name="segment">Length of a segment.</param>
    /// <returns>How much was recorded.</returns>
    public static RecorderStatus Record(ICaptureSource source, string folder, Duration segment)
    {
        using Recorder recorder = new(new RecorderSettings { Folder = folder, Clock = TimeProvider.System, SegmentTime = segment });
        using RecordingSource recording = new(source, recorder);
        while (recording.Read(out _) == ReadStatus.Record)
        {
            // All of it.
        }

        recorder.Finish();
        return recorder.Status;
    }

    /// <summary>Records a source that is over within ten minutes, and finds the one segment.</summary>
    /// <param name="source">What is recorded; disposed.</param>
    /// <param name="folder">Where to.</param>
    /// <returns>The path of the segment.</returns>
    public static string Segment(ICaptureSource source, string folder)
    {
        Record(source, folder, Duration.FromSeconds(600));
        return Directory.GetFiles(folder, "*" + RecordedFolder.SegmentSuffix).Single();
    }
}
