namespace DmxProbe.Capture.Recording;

/// <summary>
/// Keeps a recording as short as it was asked for, but for what a mark or a fault saved. Deletes only segments that this run
/// made, that stand on its list, and that still have the length they were closed with. Does nothing where no ring was asked
/// for. Under the recorder's lock.
/// </summary>
/// <param name="settings">How to record.</param>
/// <param name="list">The list of the run.</param>
/// <param name="tell">Says what was not deleted and why.</param>
internal sealed class RecordingRing(RecorderSettings settings, RunList list, Action<string, bool, string> tell)
{
    private const double MostSavedAfterSeconds = 60;

    private long _savedAt; // by the clock that nobody sets; 0 = never
    private string _savedFor = "";

    private double SavedAfterSeconds => Math.Min(settings.Ring?.TotalSeconds ?? 0, MostSavedAfterSeconds);

    /// <summary>Saves what is there now, and the minute to come (less where the ring is shorter).</summary>
    /// <param name="reason">Why, for the list of the run.</param>
    public void Save(string reason)
    {
        if (settings.Ring is null)
        {
            return;
        }

        _savedAt = settings.Clock.GetTimestamp();
        _savedFor = reason;
        foreach (RunSegment segment in list.Segments)
        {
            segment.SavedFor ??= reason;
        }
    }

    /// <summary>A segment begins: it is saved where it belongs to the minute after a mark or a fault.</summary>
    public void Began(RunSegment segment)
    {
        if (_savedAt != 0 && settings.Clock.GetElapsedTime(_savedAt).TotalSeconds <= SavedAfterSeconds)
        {
            segment.SavedFor = _savedFor;
        }
    }

    /// <summary>Deletes what is older than the ring.</summary>
    public void Prune()
    {
        if (settings.Ring is Protocols.Records.Duration ring)
        {
            while (list.Segments.Find(segment => IsLoose(segment) && settings.Clock.GetElapsedTime(segment.ClosedAt).TotalSeconds > ring.TotalSeconds) is RunSegment old)
            {
                Delete(old);
            }
        }
    }

    /// <summary>The disk is full: gives up the oldest segment that nothing asked to keep.</summary>
    public void DeleteOldest()
    {
        if (settings.Ring is not null && list.Segments.Find(IsLoose) is RunSegment oldest)
        {
            Delete(oldest);
        }
    }

    private static bool IsLoose(RunSegment segment) => segment.ClosedAt != 0 && segment.SavedFor is null;

    private void Delete(RunSegment segment)
    {
        list.Segments.Remove(segment);
        string path = Path.Combine(settings.Folder, segment.Name);
        try
        {
            FileInfo file = new(path);
            if (!file.Exists)
            {
                return;
            }

            if (file.LinkTarget is not null || file.Length != segment.Octets)
            {
                tell("segment-changed", true, $"{path} is no longer the file that was recorded: it is not deleted");
                return;
            }

            file.Delete();
            File.Delete(path + SegmentIndex.Suffix);
            File.Delete(path + RecordedParts.Suffix);
            list.Deleted++;
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            tell("segment-not-deleted", true, $"{path} could not be deleted and is left: {failure.Message}");
        }
    }
}
