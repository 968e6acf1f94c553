using System.Text;

using DmxProbe.Analysis.Decoding.Line;
using DmxProbe.Capture.Files;
using DmxProbe.Cli;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.CaptureFiles;
using DmxProbe.Protocols.Records;
using DmxProbe.Tests.Cli;
using DmxProbe.Tui;

using Terminal.Gui.App;
using Terminal.Gui.Drivers;
using Terminal.Gui.Testing;
using Terminal.Gui.Time;

using Key = Terminal.Gui.Input.Key;

namespace DmxProbe.Tests.Tui;

/// <summary>The real window on a terminal that is not there, over Harbour Hall up to a moment, driven by keys.</summary>
public class ScreenTests
{
    private const string Hall = "captures/harbour-hall/";
    private static readonly RigPicture Picture = At(30);

    [Theory]
    [InlineData("rig", "")]
    [InlineData("universe", "u")]
    [InlineData("unit", "gLX1-6\n")]
    [InlineData("findings", "f")]
    [InlineData("typing", "gLX")]
    public void A_view_looks_as_expected_with_colour_and_without(string name, string keys)
    {
        foreach ((int width, int height) in new[] { (80, 24), (120, 40) })
        {
            string withColor = Draw(width, height, color: true, keys);
            Assert.Equal(withColor, Draw(width, height, color: false, keys));
            Golden.Matches($"screen-{name}-{width}", withColor);
        }
    }

    [Fact]
    public void A_unit_is_reached_from_the_rig_in_five_keys_and_its_row_is_marked()
    {
        string screen = Draw(80, 24, color: false, "g1-6\n");
        Assert.Contains("No unit of the sheet begins with '1-6'.", screen, StringComparison.Ordinal);
        screen = Draw(80, 24, color: false, "gHZ\n");
        Assert.Contains(">HZ-1 ", screen, StringComparison.Ordinal);
    }

    [Fact]
    public void A_finding_leads_to_its_universe()
    {
        string subject = Picture.Survey.Findings[0].Subject;
        Assert.Contains(subject, Draw(80, 24, color: false, "f\n"), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(79, 24)]
    [InlineData(40, 10)]
    [InlineData(20, 5)]
    public void A_small_terminal_gets_the_answer_alone(int width, int height)
    {
        Screen screen = NewScreen();
        IReadOnlyList<ScreenRow> rows = screen.Rows(Picture, width, height);
        Assert.InRange(rows.Count, 1, height);
        Assert.All(rows, row => Assert.InRange(row.Text.Length, 0, width));
        Assert.StartsWith(Screen.Word(Picture.Worst!.Severity) + ":", rows[0].Text, StringComparison.Ordinal);
    }

    [Fact]
    public void No_size_and_no_key_breaks_the_screen()
    {
        Random random = new(20);
        Screen screen = NewScreen();
        KeyKind[] kinds = Enum.GetValues<KeyKind>();
        for (int turn = 0; turn < 3_000; turn++)
        {
            KeyKind kind = kinds[random.Next(kinds.Length)];
            screen.Press(new ScreenKey(kind, kind == KeyKind.Letter ? (char)random.Next(1, 400) : '\0'), turn % 50 == 0 ? null : Picture);
            int width = random.Next(1, 200);
            int height = random.Next(1, 70);
            IReadOnlyList<ScreenRow> rows = screen.Rows(Picture, width, height);
            Assert.InRange(rows.Count, 0, height);
            Assert.All(rows, row => Assert.DoesNotContain(row.Text, char.IsControl));
        }
    }

    [Fact]
    public void A_hostile_name_of_a_sender_cannot_move_the_cursor()
    {
        UniversePicture first = Picture.Universes[0];
        SenderPicture hostile = first.Senders[0] with { Name = "'\u001b[2J\r\n\u009b1;1Hevil\u202e'" };
        RigPicture picture = Picture with { Universes = [first with { Senders = [hostile] }] };
        foreach (ScreenView view in Enum.GetValues<ScreenView>())
        {
            Screen screen = NewScreen();
            screen.State.View = view;
            Assert.All(screen.Rows(picture, 80, 24), row => Assert.DoesNotContain(row.Text, letter => char.IsControl(letter) || letter == '\u202e'));
        }
    }

    [Fact]
    public void Pictures_come_less_often_than_three_a_second_and_do_not_depend_on_pace()
    {
        List<RigPicture> pictures = [];
        using ICaptureSource source = CaptureFile.Open(Hall + "soundcheck.pcapng", LineFileOptions.None);
        new SnapshotSource(source, LineOptions.Found).Run(pictures.Add, default);
        Assert.True(pictures[^1].Ended);
        for (int each = 1; each < pictures.Count - 1; each++)
        {
            Assert.True((pictures[each].At - pictures[each - 1].At).TotalSeconds > 1.0 / 3);
        }
    }

    [Fact]
    public void The_window_leaves_on_q_and_on_control_c()
    {
        foreach (Key key in new[] { Key.Q, Key.C.WithCtrl })
        {
            using IApplication app = Application.Create(new VirtualTimeProvider());
            app.Init(DriverRegistry.Names.ANSI);
            using ScreenWindow window = new(NewScreen(), () => Picture, color: true);
            _ = app.Begin(window);
            app.InjectKey(key);
            Assert.True(window.StopRequested);
        }
    }

    private static RigPicture At(double seconds)
    {
        RigPicture? last = null;
        Timestamp? until = null;
        using CancellationTokenSource stop = new();
        using ICaptureSource source = CaptureFile.Open(Hall + "soundcheck.pcapng", LineFileOptions.None);
        new SnapshotSource(source, LineOptions.Found).Run(
            picture =>
            {
                until ??= picture.At + Duration.FromSeconds(seconds);
                if (picture.At <= until)
                {
                    last = picture;
                }
            },
            stop.Token);
        return last!;
    }

    private static Screen NewScreen() =>
        new(new ScreenSheet(Sheets.Open(Hall + "patch.csv", null, new PatchReadOptions()), null), TimeZoneInfo.Utc);

    private static string Draw(int width, int height, bool color, string keys)
    {
        using IApplication app = Application.Create(new VirtualTimeProvider());
        app.Init(DriverRegistry.Names.ANSI);
        app.Driver!.SetScreenSize(width, height);
        using ScreenWindow window = new(NewScreen(), () => Picture, color);
        SessionToken? session = app.Begin(window);
        app.LayoutAndDraw();
        foreach (char letter in keys)
        {
            app.InjectKey(letter == '\n' ? Key.Enter : new Key(letter));
        }

        app.LayoutAndDraw();
        StringBuilder text = new();
        foreach (string line in app.Driver.ToString()!.ReplaceLineEndings("\n").Split('\n').Take(height))
        {
            text.Append(line.TrimEnd()).Append('\n');
        }

        app.End(session!);
        return text.ToString();
    }
}
