using System.Globalization;
using System.Text;

using DmxProbe.Analysis.Video;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Pictures;

namespace DmxProbe.Cli.Video;

/// <summary>One run of <c>trace from-video</c>: a video in, a trace and a picture of its regions out.</summary>
internal sealed class TraceRun
{
    private const int SmallSide = 64;
    private const int LargeSide = 640;
    private const int SmallestSide = 16;
    private const int MostPictures = 500_000;

    // A camera stamps whole seconds by its own clock, and some stamp the end of the recording.
    private const double CreatedError = 3;

    private readonly TraceAsked _asked;
    private readonly CancellationToken _stop;
    private readonly VideoFacts _facts;
    private readonly int _width;
    private readonly int _height;
    private byte[] _brightest = [];
    private double _brightestSum = double.NegativeInfinity;

    private TraceRun(TraceAsked asked, VideoFacts facts, CancellationToken stop)
    {
        _asked = asked;
        _facts = facts;
        _stop = stop;
        (_width, _height) = Fitted(LargeSide);
    }

    /// <summary>What came of it.</summary>
    public VideoTrace Trace { get; private set; } = null!;

    /// <summary>When the first picture was taken; null = unknown.</summary>
    public Timestamp? Start { get; private set; }

    /// <summary>How far that may be off, s; 0 where a person gave it.</summary>
    public double ClockError { get; private set; }

    /// <summary>What stands in the way of a whole answer, in sentences.</summary>
    public List<string> Warnings { get; } = [];

    /// <summary>The regions were found, not given.</summary>
    public bool Found => _asked.Regions.Count == 0;

    /// <summary>The trace's file.</summary>
    public string Output => _asked.Output;

    /// <summary>The picture's file.</summary>
    public string Picture => _asked.Picture;

    /// <summary>Runs it.</summary>
    /// <exception cref="UsageException">The video does not serve; one sentence.</exception>
    public static TraceRun Of(TraceAsked asked, CancellationToken stop)
    {
        TextFile.OpenBytes(asked.Video).Dispose();
        VideoFacts facts = VideoTool.Probe(asked.Video, stop);
        if (!facts.HasPictures)
        {
            throw new UsageException($"{asked.Video}: {(facts.HasSound ? "this file has sound and no pictures" : "this file has no moving pictures")}; give the video itself");
        }

        if (facts.Width < SmallestSide || facts.Height < SmallestSide)
        {
            throw new UsageException(Text($"{asked.Video}: the picture is too small: expected at least {SmallestSide} x {SmallestSide} pixels, found {facts.Width} x {facts.Height}; use the video as the camera made it"));
        }

        TraceRun run = new(asked, facts, stop);
        run.Measure();
        run.Save();
        return run;
    }

    private void Measure()
    {
        (int smallWidth, int smallHeight) = Fitted(SmallSide);
        SmallPictures small = new(smallWidth, smallHeight, _facts.PicturesPerSecond);
        string complaint = VideoTool.Decode(
            _asked.Video,
            smallWidth,
            smallHeight,
            null,
            (pixels, number) =>
            {
                small.Add(pixels);
                return number + 1 < MostPictures;
            },
            _stop);
        if (small.Added < 2)
        {
            throw new UsageException(Text($"{_asked.Video}: expected moving pictures, found {(small.Added == 0 ? "none that can be decoded" : "a single one")}{complaint}; check that it is the whole file, as the camera made it"));
        }

        IReadOnlyList<PictureRegion> regions = Regions(small);
        RegionMeter[] meters = [.. regions.Select(region => new RegionMeter(region.Scaled(_facts.Width, _facts.Height, _width, _height), _width, _height, _facts.Curve))];
        PictureTimes times = new();
        _ = VideoTool.Decode(_asked.Video, _width, _height, times, (pixels, number) => Take(meters, pixels, number), _stop);
        Trace = VideoTrace.Of(_facts, regions, meters, times, ExposureDrift.Of(small, _facts.Curve));
        Clock();
        Warn(complaint, small.Added);
        foreach (RegionTrace region in Trace.Regions.Where(region => region.Samples.Count < 2))
        {
            throw new UsageException(Text($"{_asked.Video}: region {region.Name} ({region.Region}) leaves {region.Samples.Count} readings, because {region.Clipped} pictures are clipped there and {Trace.Untimed} have no usable time; choose the spot that the light throws, with --region x,y,w,h"));
        }
    }

    private bool Take(RegionMeter[] meters, ReadOnlySpan<byte> pixels, int number)
    {
        double sum = 0;
        foreach (RegionMeter meter in meters)
        {
            meter.Add(pixels, number);
            RegionReading reading = meter.Readings[^1];
            sum += reading.Red + reading.Green + reading.Blue;
        }

        if (sum > _brightestSum)
        {
            _brightestSum = sum;
            _brightest = pixels.ToArray();
        }

        return number + 1 < MostPictures;
    }

    private IReadOnlyList<PictureRegion> Regions(SmallPictures small)
    {
        foreach (PictureRegion region in _asked.Regions)
        {
            if (!region.IsWithin(_facts.Width, _facts.Height))
            {
                throw new UsageException(Text($"--region: expected x,y,w,h within the picture of {_facts.Width} x {_facts.Height} pixels, found '{region}'; 0,0 is its top left"));
            }
        }

        if (_asked.Regions.Count > 0)
        {
            return _asked.Regions;
        }

        IReadOnlyList<PictureRegion> found = RegionFinder.Find(small, _facts.Width, _facts.Height);
        return found.Count > 0
            ? found
            : throw new UsageException($"{_asked.Video}: nothing in the picture changes enough to be a light; film the light, or the spot it throws, while it does something, or name the place with --region x,y,w,h");
    }

    private void Clock()
    {
        Start = _asked.Start ?? _facts.Created;
        ClockError = _asked.Start is null && _facts.Created is not null ? CreatedError + Math.Max(Trace.Length, _facts.Seconds) : 0;
        if (_asked.Start is null)
        {
            Warnings.Add(_facts.Created is null
                ? "the video does not say when it was taken, so the trace has no clock; 'locate' then also looks for the moment; --start gives it"
                : Text($"the time is the camera's own, and some cameras stamp the end of a recording: 'locate' looks up to {ClockError:0} s around it; --start gives a better one"));
        }
    }

    private void Warn(string complaint, int decoded)
    {
        Warnings.AddRange(Trace.Warnings());
        if (complaint.Length > 0)
        {
            Warnings.Add(Text($"the video is damaged or cut{complaint}: {decoded} pictures could be used"));
        }

        if (_facts.Seconds > 0 && Trace.Length < (0.9 * _facts.Seconds) - 0.5)
        {
            Warnings.Add(Text($"the file states {_facts.Seconds:0.0} s, its pictures last {Trace.Length:0.0} s"));
        }

        if (decoded >= MostPictures)
        {
            Warnings.Add(Text($"only the first {MostPictures} pictures were used; cut the video to the time of the capture"));
        }
    }

    private void Save()
    {
        using (StreamWriter writer = new(Created(_asked.Output), new UTF8Encoding(encoderShouldEmitUTF8Identifier: false)) { NewLine = "\n" })
        {
            TraceWriter.Write(writer, Trace, Start, ClockError);
        }

        PngPicture picture = new(_width, _height, _brightest);
        foreach (RegionTrace region in Trace.Regions)
        {
            PictureRegion place = region.Region.Scaled(_facts.Width, _facts.Height, _width, _height);
            picture.Frame(place.X, place.Y, place.Width, place.Height);
            if (Trace.Regions.Count > 1)
            {
                picture.Digit(int.Parse(region.Name, CultureInfo.InvariantCulture), place.X + 1, place.Y > 14 ? place.Y - 13 : place.Y + place.Height + 3);
            }
        }

        using FileStream file = Created(_asked.Picture);
        picture.Write(file);
    }

    private FileStream Created(string path)
    {
        try
        {
            return new FileStream(path, _asked.Force ? FileMode.Create : FileMode.CreateNew, FileAccess.Write);
        }
        catch (IOException) when (File.Exists(path) && !_asked.Force)
        {
            throw Exists(path);
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            throw new UsageException($"{path}: this file cannot be written ({failure.Message.TrimEnd('.')}); give another place with --output");
        }
    }

    /// <summary>The refusal to write over a file.</summary>
    public static UsageException Exists(string path) =>
        new($"{path}: there is such a file already; give another name with --output, or --force to write over it");

    private (int Width, int Height) Fitted(int side)
    {
        double scale = Math.Min(1, (double)side / Math.Max(_facts.Width, _facts.Height));
        return (Math.Max(1, (int)Math.Round(_facts.Width * scale)), Math.Max(1, (int)Math.Round(_facts.Height * scale)));
    }

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
