namespace DmxProbe.Reporting.Archive;

/// <summary>Holds the open files of an archive: two a universe, of the hour that is packed. Used by one thread.</summary>
/// <param name="show">What the recording is of.</param>
/// <param name="create">Makes a file.</param>
/// <param name="mostWaiting">Octets that may wait in all open files together; with more the fullest writes a smaller row group.</param>
internal sealed class ArchiveWriter(ArchiveShow show, Func<ArchivePlace, Stream> create, long mostWaiting) : IDisposable
{
    private readonly ArchiveBuffers _buffers = new();
    private readonly Dictionary<string, Open> _open = new(StringComparer.Ordinal);
    private readonly HashSet<(string Universe, long Hour)> _closed = [];
    private long _waiting;

    /// <summary>Takes in a segment.</summary>
    /// <exception cref="IOException">A file could not be written.</exception>
    public void Add(PackedSegment segment)
    {
        string universe = ArchiveNames.Of(segment.Universe);
        long hour = ShowPacker.Hour(segment.Times[0]);
        if (_open.TryGetValue(universe, out Open? open) && open.Hour != hour)
        {
            Close(universe, open);
            open = null;
        }

        open ??= _open[universe] = Begin(universe, hour);
        _waiting -= open.Waiting;
        open.Levels.Add(segment);
        open.Frames.Add(segment);
        _waiting += open.Waiting;
        segment.Release();
        if (_waiting > mostWaiting)
        {
            Open fullest = _open.Values.MaxBy(each => each.Waiting)!;
            _waiting -= fullest.Waiting;
            fullest.Levels.Write();
            fullest.Frames.Write();
            _waiting += fullest.Waiting;
        }
    }

    /// <summary>Closes all files.</summary>
    public void Finish()
    {
        foreach ((string universe, Open open) in _open.ToArray())
        {
            Close(universe, open);
        }
    }

    /// <summary>Lets go of the files.</summary>
    public void Dispose()
    {
        foreach (Open open in _open.Values)
        {
            open.Levels.Dispose();
            open.Frames.Dispose();
        }

        _open.Clear();
    }

    // Where a clock was set back an hour comes a second time: it goes on in a file of its own.
    private Open Begin(string universe, long hour)
    {
        string again = "";
        for (int time = 2; !_closed.Add((universe + again, hour)); time++)
        {
            again = string.Create(System.Globalization.CultureInfo.InvariantCulture, $"_{time}");
        }

        ArchiveShow named = show with { Recording = show.Recording + again };
        return new Open(
            hour,
            new LevelsTable(show, create(ArchivePlace.Of("levels", named, hour, universe)), _buffers),
            new FramesTable(show, create(ArchivePlace.Of("frames", named, hour, universe)), _buffers));
    }

    private void Close(string universe, Open open)
    {
        _open.Remove(universe);
        _waiting -= open.Waiting;
        open.Levels.Finish();
        open.Frames.Finish();
        open.Levels.Dispose();
        open.Frames.Dispose();
    }

    private sealed record Open(long Hour, LevelsTable Levels, FramesTable Frames)
    {
        public int Waiting => Levels.Waiting + Frames.Waiting;
    }
}
