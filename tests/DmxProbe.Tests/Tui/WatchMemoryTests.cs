using DmxProbe.Analysis.Decoding.Line;
using DmxProbe.Capture.Files;
using DmxProbe.Protocols.CaptureFiles;
using DmxProbe.Protocols.Records;
using DmxProbe.Tui;

using Terminal.Gui.App;
using Terminal.Gui.Drivers;
using Terminal.Gui.Time;

namespace DmxProbe.Tests.Tui;

/// <summary>What <c>watch</c> keeps does not grow with time. Alone, for the memory of other tests would count.</summary>
[Collection(nameof(WatchMemoryTests))]
[CollectionDefinition(nameof(WatchMemoryTests), DisableParallelization = true)]
public sealed class WatchMemoryTests
{
    // The sound check again and again, with its faults: what is told of each is bounded, and that bound is reached late.
    private const long MostKeptMore = 100_000;

    [Fact]
    public void Half_an_hour_of_traffic_and_pictures_leaves_nothing_behind()
    {
        using Repeated source = new(Hall.Network, TimeSpan.FromMinutes(30));
        using ScreenWish wish = new();
        Screen screen = new(Hall.Sheet, TimeZoneInfo.Utc, wish, null, Hall.Guides());
        using IApplication app = Application.Create(new VirtualTimeProvider());
        app.Init(DriverRegistry.Names.ANSI);
        app.Driver!.SetScreenSize(120, 40);
        RigPicture? latest = null;
        using ScreenWindow window = new(screen, () => latest, color: true);
        SessionToken? session = app.Begin(window);
        Timestamp begun = Timestamp.MinValue;
        List<long> kept = [];
        int pictures = 0;
        new SnapshotSource(source, LineOptions.Found, Hall.Sheet, wish).Run(
            picture =>
            {
                begun = begun == Timestamp.MinValue ? picture.At : begun;
                screen.State.View = pictures++ % 2 == 0 ? ScreenView.Universe : ScreenView.Findings;

                // All of them on the window take 20 s, and leave as little.
                if (pictures % 9 == 0)
                {
                    latest = picture;
                    window.Refresh();
                    app.LayoutAndDraw();
                }
                else
                {
                    _ = screen.Rows(picture, 120, 40);
                }

                if (picture.At - begun >= Duration.FromSeconds(300 * (kept.Count + 1)))
                {
                    kept.Add(GC.GetTotalMemory(forceFullCollection: true));
                }
            },
            default);
        Assert.Contains("sACN 2", Hall.Text(app, 40), StringComparison.Ordinal);
        app.End(session!);
        Assert.InRange(pictures, 3_000, 6_000);
        Assert.InRange(kept.Count, 5, 6);
        Assert.True(kept[^1] - kept[0] < MostKeptMore, string.Join(' ', kept));
    }

    // A recording that begins anew at its end, its times going on.
    private sealed class Repeated(string file, TimeSpan length) : ICaptureSource
    {
        private ICaptureSource _file = CaptureFile.Open(file, LineFileOptions.None);
        private Duration _shift = Duration.FromSeconds(0);
        private Timestamp _first = Timestamp.MinValue;
        private Timestamp _last;
        private long _number;

        public string Name => _file.Name;

        public IReadOnlyList<CaptureInterface> Interfaces => _file.Interfaces;

        public InputProblem? Problem => _file.Problem;

        public ReadStatus Read(out CaptureRecord record)
        {
            ReadStatus status = _file.Read(out CaptureRecord read);
            if (status == ReadStatus.End && _last - _first < Duration.FromSeconds((long)length.TotalSeconds))
            {
                _file.Dispose();
                _file = CaptureFile.Open(file, LineFileOptions.None);
                status = _file.Read(out read);
                _shift = _last + Duration.FromMilliseconds(20) - read.Time;
            }

            _last = read.Time + _shift;
            _first = _first == Timestamp.MinValue ? _last : _first;
            record = new CaptureRecord
            {
                Number = ++_number,
                Time = _last,
                HasTime = read.HasTime,
                Kind = read.Kind,
                InterfaceId = read.InterfaceId,
                LinkType = read.LinkType,
                OriginalLength = read.OriginalLength,
                LostBefore = read.LostBefore,
                Data = read.Data,
            };
            return status;
        }

        public void Dispose() => _file.Dispose();
    }
}
