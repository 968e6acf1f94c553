using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Index;

/// <summary>
/// The review files of a recording: made where there is none that is true, kept open as far as they are asked, and what is in them
/// by universe. <see cref="ReviewIndex"/> asks them.
/// </summary>
internal sealed class ReviewParts : IDisposable
{
    private const int MostOpen = 64;
    private readonly IPartedRecording _recording;
    private readonly Action<ReviewProgress> _progress;
    private readonly CancellationToken _cancellation;
    private readonly Dictionary<UniverseId, List<Lane>> _universes = [];
    private readonly LinkedList<(int Part, LevelFile File)> _open = [];
    private readonly List<InputProblem> _problems = [];

    /// <summary>Begins; <see cref="Load"/> comes next.</summary>
    /// <param name="recording">The recording; belongs to this.</param>
    /// <param name="progress">Told before and after each part that has to be made.</param>
    /// <param name="cancellation">Stops the making.</param>
    public ReviewParts(IPartedRecording recording, Action<ReviewProgress>? progress, CancellationToken cancellation)
    {
        _recording = recording;
        _progress = progress ?? (_ => { });
        _cancellation = cancellation;
    }

    /// <summary>Every stream by its number, those without a level frame too.</summary>
    public IReadOnlyList<ReviewStream> All { get; private set; } = [];

    /// <summary>Streams with level frames, by universe, then by first appearance.</summary>
    public IReadOnlyList<ReviewStream> Streams { get; private set; } = [];

    /// <summary>Time of the earliest level frame; null where there is none.</summary>
    public Timestamp? First { get; private set; }

    /// <summary>Time of the latest level frame; null where there is none.</summary>
    public Timestamp? Last { get; private set; }

    /// <summary>Parts whose review file was made, because there was none that was true.</summary>
    public int PartsMade { get; private set; }

    /// <summary>Why parts whose review file was made end early.</summary>
    public IReadOnlyList<InputProblem> Problems => _problems;

    /// <summary>Makes the review files that are missing, and takes in what is in all.</summary>
    public void Load()
    {
        for (int part = 0; part < _recording.Parts.Count; part++)
        {
            int last = part;
            while (last < _recording.Parts.Count && _recording.Parts[last].Lane == _recording.Parts[part].Lane && FileOf(last) is null)
            {
                last++;
            }

            if (last > part)
            {
                Make(part, last - 1);
                part = last - 1;
            }
        }

        _universes.Clear();
        Dictionary<(UniverseId, string), int> byKey = [];
        List<ReviewStream> streams = [];
        for (int part = 0; part < _recording.Parts.Count; part++)
        {
            LevelFile file = FileOf(part) ?? throw new IOException("a review file cannot be kept anywhere: free some space");
            Merge(part, file, byKey, streams);
        }

        All = streams;
        Streams = [.. streams.Where(stream => stream.Frames > 0).OrderBy(stream => stream.Universe).ThenBy(stream => stream.Sender.Index)];
        First = Streams.Count > 0 ? Streams.Min(stream => stream.First) : null;
        Last = Streams.Count > 0 ? Streams.Max(stream => stream.Last) : null;
    }

    /// <summary>Asks; a damaged file shows only when it is read: it is made again, and the question asked again.</summary>
    public T Ask<T>(Func<T> question)
    {
        for (int damaged = 0; ; damaged++)
        {
            try
            {
                return question();
            }
            catch (DamagedException damage) when (damaged < _recording.Parts.Count)
            {
                Forget(damage.Part);
                Make(damage.Part, damage.Part);
                Load();
            }
        }
    }

    /// <summary>Where the frames of a universe stand, in the order of the recording.</summary>
    public IEnumerable<ReviewPlace> Places(UniverseId universe) =>
        _universes.TryGetValue(universe, out List<Lane>? lanes) ? lanes.SelectMany(lane => lane.Places) : [];

    /// <summary>Reads something of a block.</summary>
    public T Get<T>(ReviewPlace place, Func<LevelFile, T?> read)
        where T : class
    {
        LevelFile file = FileOf(place.Part) ?? throw new DamagedException(place.Part);
        return read(file) ?? throw new DamagedException(place.Part);
    }

    /// <summary>The lane of a block: parts of one lane follow each other.</summary>
    public int LaneOf(ReviewPlace place) => _recording.Parts[place.Part].Lane;

    /// <inheritdoc/>
    public void Dispose()
    {
        foreach ((int _, LevelFile file) in _open)
        {
            file.Dispose();
        }

        _open.Clear();
        _recording.Dispose();
    }

    private LevelFile? FileOf(int part)
    {
        for (LinkedListNode<(int Part, LevelFile File)>? node = _open.First; node is not null; node = node.Next)
        {
            if (node.Value.Part == part)
            {
                _open.Remove(node);
                _open.AddFirst(node);
                return node.Value.File;
            }
        }

        if (_recording.OpenBeside(part) is not Stream stream || LevelFile.TryOpen(stream, _recording.Parts[part]) is not LevelFile file)
        {
            return null;
        }

        _open.AddFirst((part, file));
        if (_open.Count > MostOpen)
        {
            _open.Last!.Value.File.Dispose();
            _open.RemoveLast();
        }

        return file;
    }

    private void Forget(int part)
    {
        if (_open.FirstOrDefault(each => each.Part == part) is { File: not null } open)
        {
            open.File.Dispose();
            _open.Remove(open);
        }
    }

    private void Merge(int part, LevelFile file, Dictionary<(UniverseId, string), int> byKey, List<ReviewStream> streams)
    {
        int[] numbers = new int[file.Streams.Count];
        for (int i = 0; i < numbers.Length; i++)
        {
            ReviewStream described = file.Streams[i];
            if (!byKey.TryGetValue(described.Key, out numbers[i]))
            {
                numbers[i] = streams.Count;
                byKey.Add(described.Key, streams.Count);
                streams.Add(described with { Sender = described.Sender with { Index = streams.Count } });
            }

            ReviewStream known = streams[numbers[i]];
            if (described.Sender.Name.Length > 0)
            {
                streams[numbers[i]] = known with { Sender = described.Sender with { Index = numbers[i] } };
            }
        }

        foreach ((int stream, LevelFileEntry entry) in file.Entries)
        {
            int number = numbers[stream];
            ReviewStream known = streams[number];
            if (!_universes.TryGetValue(known.Universe, out List<Lane>? lanes))
            {
                _universes[known.Universe] = lanes = [];
            }

            int lane = _recording.Parts[part].Lane;
            if (lanes.Find(each => each.Number == lane) is not Lane mine)
            {
                lanes.Add(mine = new Lane(lane, []));
            }

            mine.Places.Add(new ReviewPlace(part, number, entry));
            streams[number] = entry.Frames == 0 ? known : known with
            {
                Frames = known.Frames + entry.Frames,
                First = entry.Earliest < known.First ? entry.Earliest : known.First,
                Last = entry.Latest > known.Last ? entry.Latest : known.Last,
            };
        }
    }

    private void Make(int first, int last)
    {
        int made = 0;
        _progress(new ReviewProgress(0, last - first + 1));
        LevelFileBuilder builder = new(_recording, part =>
        {
            made++;
            PartsMade++;
            _progress(new ReviewProgress(made, last - first + 1));
        });
        builder.Make(first, last, _cancellation);
        if (builder.Problem is InputProblem problem)
        {
            _problems.Add(problem);
        }
    }

    private sealed record Lane(int Number, List<ReviewPlace> Places);

    private sealed class DamagedException(int part) : Exception
    {
        public int Part { get; } = part;
    }
}
