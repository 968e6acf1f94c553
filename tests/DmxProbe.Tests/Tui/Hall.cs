using System.Collections.Concurrent;
using System.Text;

using DmxProbe.Analysis.Decoding.Line;
using DmxProbe.Capture.Files;
using DmxProbe.Cli;
using DmxProbe.Cli.Ask;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.CaptureFiles;
using DmxProbe.Protocols.Records;
using DmxProbe.Tui;

using Terminal.Gui.App;
using Terminal.Gui.Drivers;
using Terminal.Gui.Testing;
using Terminal.Gui.Time;

using Key = Terminal.Gui.Input.Key;

namespace DmxProbe.Tests.Tui;

/// <summary>Harbour Hall on the real window on a terminal that is not there, driven by keys.</summary>
internal static class Hall
{
    public const string Folder = "captures/harbour-hall/";
    public const string Network = Folder + "soundcheck.pcapng";
    public const string Line = Folder + "stage-left.vcd";
    private static readonly ConcurrentDictionary<(string File, double Seconds, Wished Wished), RigPicture> Pictures = new();

    public static SheetInUse Patch { get; } = Sheets.Open(Folder + "patch.csv", null, new PatchReadOptions());

    public static ScreenSheet Sheet { get; } = new(Patch, null);

    /// <summary>What is known of a unit before questions, from the first 30 s and without a light.</summary>
    public static LocateGathered Gathered(string name)
    {
        PatchUnit unit = Patch.Patch.Units.First(each => each.Unit == name);
        RigPicture picture = At(30, name);
        UniverseMap map = picture.Map!;
        return LocateGathered.Of(LocateRun.CaseOf(
            Patch.Patch, Patch.Charts, unit, LocateRun.LightModes(Patch.Charts, unit, null), null, ScreenGuides.Held(picture), map, picture.Survey, null), map);
    }

    /// <summary>The guided screens, which work at once and keep nothing.</summary>
    public static ScreenGuides Guides(AskLog? log = null, IAskWire? wire = null) => new(Patch, log, TimeZoneInfo.Utc, new SteppedClock(), wire: wire);

    /// <summary>The last picture not later than so many seconds from the first record.</summary>
    public static RigPicture At(double seconds, string? unit = null, string file = Network) => At(seconds, new Wished(unit, null, false), file);

    /// <summary>The same, with all that is wished in it.</summary>
    public static RigPicture At(double seconds, Wished wished, string file = Network) => Pictures.GetOrAdd((file, seconds, wished), _ =>
    {
        RigPicture? last = null;
        Timestamp? until = null;
        using ScreenWish wish = new();
        wish.Set(wished.Unit, wished.Universe, wished.Walks);
        using ICaptureSource source = CaptureFile.Open(file, LineFileOptions.None);
        new SnapshotSource(source, LineOptions.Found, Sheet, wish).Run(
            picture =>
            {
                until ??= picture.At + Duration.FromSeconds(seconds);
                if (picture.At <= until)
                {
                    last = picture;
                }
            },
            default);
        return last!;
    });

    /// <summary>What stands on the screen after keys; a line feed is Enter.</summary>
    public static string Draw(int width, int height, bool color, string keys, string file = Network) =>
        Draw(width, height, color, keys, app => Text(app, height), file);

    /// <summary>What is seen of the terminal after keys; a line feed is Enter.</summary>
    public static T Draw<T>(int width, int height, bool color, string keys, Func<IApplication, T> see, string file = Network)
    {
        using ScreenWish wish = new();
        using IApplication app = Application.Create(new VirtualTimeProvider());
        app.Init(DriverRegistry.Names.ANSI);
        app.Driver!.SetScreenSize(width, height);
        using ScreenWindow window = new(new Screen(Sheet, TimeZoneInfo.Utc, wish, null, Guides()), () => At(30, wish.Now, file), color);
        SessionToken? session = app.Begin(window);
        app.LayoutAndDraw();
        foreach (char letter in keys)
        {
            app.InjectKey(letter == '\n' ? Key.Enter : letter == '\u2192' ? Key.CursorRight : letter == 'v' ? Key.CursorDown : new Key(letter));
        }

        app.LayoutAndDraw();
        T seen = see(app);
        app.End(session!);
        return seen;
    }

    /// <summary>The rows of a terminal that is not there.</summary>
    public static string Text(IApplication app, int height)
    {
        StringBuilder text = new();
        foreach (string line in app.Driver!.ToString()!.ReplaceLineEndings("\n").Split('\n').Take(height))
        {
            text.Append(line.TrimEnd()).Append('\n');
        }

        return text.ToString();
    }
}
