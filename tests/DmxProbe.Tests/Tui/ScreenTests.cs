using DmxProbe.Analysis.Decoding.Line;
using DmxProbe.Analysis.Timing;
using DmxProbe.Capture.Files;
using DmxProbe.Protocols.CaptureFiles;
using DmxProbe.Protocols.Records;
using DmxProbe.Tests.Cli;
using DmxProbe.Tui;

using Terminal.Gui.App;
using Terminal.Gui.Drawing;
using Terminal.Gui.Drivers;
using Terminal.Gui.Input;
using Terminal.Gui.Testing;
using Terminal.Gui.Time;

using Key = Terminal.Gui.Input.Key;

namespace DmxProbe.Tests.Tui;

/// <summary>The views of <c>watch</c> over Harbour Hall up to a moment.</summary>
public sealed class ScreenTests : IDisposable
{
    private static readonly RigPicture Picture = Hall.At(30);
    private readonly ScreenWish _wish = new();

    public void Dispose() => _wish.Dispose();

    [Theory]
    [InlineData("rig", "", Hall.Network)]
    [InlineData("universe", "u", Hall.Network)]
    [InlineData("universe-unit", "gLX1-6\nu", Hall.Network)]
    [InlineData("unit", "gLX1-6\n", Hall.Network)]
    [InlineData("unit-disputed", "gLX2-1\n", Hall.Network)]
    [InlineData("timing", "t", Hall.Network)]
    [InlineData("timing-line", "t", Hall.Line)]
    [InlineData("findings", "f", Hall.Network)]
    [InlineData("typing", "gLX", Hall.Network)]
    [InlineData("locate-before", "g1-6\nd", Hall.Network)]
    [InlineData("locate-controller", "g1-6\ndn", Hall.Network)]
    [InlineData("locate-question", "g1-6\ndn1l", Hall.Network)]
    [InlineData("locate-faders", "g1-6\ndn2", Hall.Network)]
    [InlineData("locate-audience", "g1-6\ndy", Hall.Network)]
    [InlineData("keys", "?", Hall.Network)]
    [InlineData("walk", "c", Hall.Network)]
    [InlineData("walk-answered", "cyn\u2192", Hall.Network)]
    public void A_view_looks_as_expected_with_colour_and_without(string name, string keys, string file)
    {
        foreach ((int width, int height) in new[] { (80, 24), (120, 40) })
        {
            string withColor = Hall.Draw(width, height, color: true, keys, file);
            Assert.Equal(withColor, Hall.Draw(width, height, color: false, keys, file));
            Golden.Matches($"screen-{name}-{width}", withColor);
        }
    }

    // The story "one light doesn't follow": seven keys to the verdict, what the wire carries slot by slot, and what is next.
    [Fact]
    public void A_light_that_does_not_follow_is_answered_within_twelve_keys()
    {
        const string keys = "g1-6\n";
        Assert.True(keys.Length <= 12);
        string screen = Hall.Draw(80, 24, color: false, keys);
        Assert.Contains("LX1-6 should be lit: red 100 %", screen, StringComparison.Ordinal);
        Assert.Contains("1.061   170 Dimmer", screen, StringComparison.Ordinal);
        Assert.Contains("another address or", screen, StringComparison.Ordinal);
        Assert.Contains("D finds out", screen, StringComparison.Ordinal);

        // And two more to the first of the questions that say what it is really reading.
        Assert.Contains("raise only", Hall.Draw(80, 24, color: false, keys + "dn1"), StringComparison.Ordinal);
        Assert.True((keys + "dn1").Length <= 12);
    }

    // The story "read a gateway's timing margin": the figures of the issue's recording, as `dmxprobe timing` tells them.
    [Fact]
    public void A_gateways_timing_margin_is_read_with_one_key()
    {
        string screen = Hall.Draw(80, 24, color: false, "t", Hall.Line);
        Assert.Contains("mark after break", screen.Split('\n')[1], StringComparison.Ordinal);
        Assert.Matches(@"> stage left. mark after break +8\.\d+ +13\.\d+ +-3\.\d+ .*outside", screen);
        Assert.Contains("send 12 us to 1 s", screen, StringComparison.Ordinal);
    }

    // Figures of a line are in us, ms, Hz and slots: each row has its unit, and what the spread reaches to is never cut.
    [Theory]
    [InlineData(80)]
    [InlineData(120)]
    public void Every_row_of_timing_has_its_unit(int width)
    {
        string screen = Hall.Draw(width, 40, color: false, "t", Hall.Line);
        Assert.Matches(@"mark after break +8\.90 +13\.\d +-3\.10 us ", screen);
        Assert.Matches(@"silent for +23\.9 +24\.0 +\+976\.0 ms ", screen);
        Assert.Matches(@"refresh rate +41\.6 +41\.8 +- Hz ", screen);
        Assert.Matches(@"slots sent +512\.0 +512\.0 +\+0 slots", screen);
        TimingMeasurement figure = Hall.At(30, file: Hall.Line).Timing.First(each => each.Histogram.Count > 1);
        foreach (int bars in new[] { 2, 16, 48, 100, 1000 })
        {
            string spread = TimingView.Spread(figure with { Histogram = [.. Enumerable.Range(0, bars).Select(bar => new DistributionBar(8 + bar, 8.5 + bar, 1 + bar))] }, width);
            Assert.Matches(@"  8\.00 us to [\d.,]+ us, tallest [\d,]+$", spread);
            Assert.InRange(spread.Length, 1, width);
        }
    }

    [Fact]
    public void Before_the_first_record_a_file_is_being_read_and_an_input_is_listened_to()
    {
        Screen live = new(Hall.Sheet, TimeZoneInfo.Utc, _wish);
        Screen file = new(Hall.Sheet, TimeZoneInfo.Utc, _wish) { Reads = "stage\u001b-left.vcd" };
        Assert.StartsWith("Nothing heard yet.", live.Rows(null, 80, 24)[0].Text, StringComparison.Ordinal);
        Assert.StartsWith("Reading stage", file.Rows(null, 80, 24)[0].Text, StringComparison.Ordinal);
        Assert.DoesNotContain(file.Rows(null, 80, 24)[0].Text, char.IsControl);
    }

    [Theory]
    [InlineData("gHZ\n", " Unit HZ-1 ")]
    [InlineData("gnobody\n", "No unit of the sheet begins with 'nobody'")]
    [InlineData("uv\n", " Unit LX2-1 ")]
    [InlineData("gLX1-6\nn", " Unit DR-1 ")]
    [InlineData("gLX1-6\np", " Unit LX1-5 ")]
    [InlineData("?", " Keys ")]
    [InlineData("5", " Keys ")]
    [InlineData("t?r", " Rig ")]
    [InlineData("c", " Function check ")]
    [InlineData("g1-6\nd", " Locate LX1-6 ")]
    [InlineData("f\n", " Universe ")]
    [InlineData("\n", " Universe ")]
    public void Keys_go_where_they_say(string keys, string expected) =>
        Assert.Contains(expected, Hall.Draw(80, 24, color: false, keys), StringComparison.Ordinal);

    [Fact]
    public void Every_letter_shown_at_the_bottom_does_something()
    {
        foreach (string before in new[] { "", "u", "gLX2-1\n", "t", "f" })
        {
            string screen = Hall.Draw(80, 24, color: false, before);
            string bottom = screen.Split('\n')[23];
            foreach (string hint in bottom.Split("  ", StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries).Where(hint => hint[1] == ' ' && hint[0] != 'Q'))
            {
                Assert.NotEqual(screen, Hall.Draw(80, 24, color: false, before + char.ToLowerInvariant(hint[0])));
            }
        }
    }

    [Theory]
    [InlineData("c")]
    [InlineData("?c")]
    [InlineData("d")]
    public void Without_a_sheet_the_guided_screens_say_that_they_need_one(string keys)
    {
        ScreenSheet none = new(null, null);
        Screen screen = new(none, TimeZoneInfo.Utc, _wish, null, new ScreenGuides(null, null, TimeZoneInfo.Utc, new SteppedClock()));
        foreach (char key in keys)
        {
            screen.Press(ScreenKey.Typed(key), Picture);
        }

        Assert.Contains("No patch sheet: start with --patch SHEET", screen.Rows(Picture, 80, 24)[^1].Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_click_chooses_a_row_and_a_click_on_a_key_is_the_key()
    {
        Screen screen = NewScreen();
        IReadOnlyList<ScreenRow> rows = screen.Rows(Picture, 80, 24);
        int second = rows.ToList().FindIndex(row => row.Choice == 2);
        screen.Click(5, second, Picture);
        Assert.Equal(Picture.Universes[1].Summary.Id, screen.State.Universe);
        screen.Rows(Picture, 80, 24);
        screen.Click(5, second, Picture);
        Assert.Equal(ScreenView.Universe, screen.State.View);
        rows = screen.Rows(Picture, 80, 24);
        screen.Click(rows[^1].Text.IndexOf("F findings", StringComparison.Ordinal), rows.Count - 1, Picture);
        Assert.Equal(ScreenView.Findings, screen.State.View);
    }

    [Fact]
    public void A_mouse_reaches_the_window()
    {
        using IApplication app = Application.Create(new VirtualTimeProvider());
        app.Init(DriverRegistry.Names.ANSI);
        app.Driver!.SetScreenSize(80, 24);
        Screen screen = NewScreen();
        using ScreenWindow window = new(screen, () => Picture, color: true);
        _ = app.Begin(window);
        app.LayoutAndDraw();
        int second = screen.Rows(Picture, 80, 24).ToList().FindIndex(row => row.Choice == 2);
        foreach (MouseFlags flags in new[] { MouseFlags.LeftButtonPressed, MouseFlags.LeftButtonReleased })
        {
            app.InjectMouse(new Mouse { ScreenPosition = new System.Drawing.Point(5, second), Flags = flags });
        }

        Assert.Equal(Picture.Universes[1].Summary.Id, screen.State.Universe);
        app.InjectMouse(new Mouse { ScreenPosition = new System.Drawing.Point(5, second), Flags = MouseFlags.WheeledDown });
        Assert.Equal(Picture.Universes[2].Summary.Id, screen.State.Universe);
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
        RigPicture unit = Hall.At(30, "LX2-1");
        for (int turn = 0; turn < 3_000; turn++)
        {
            RigPicture? shown = turn % 50 == 0 ? null : turn % 2 == 0 ? Picture : unit;
            KeyKind kind = kinds[random.Next(kinds.Length)];
            screen.Press(new ScreenKey(kind, kind == KeyKind.Letter ? (char)random.Next(1, 400) : '\0'), shown);
            int width = random.Next(1, 200);
            int height = random.Next(1, 70);
            IReadOnlyList<ScreenRow> rows = screen.Rows(shown, width, height);
            Assert.InRange(rows.Count, 0, height);
            Assert.All(rows, row => Assert.DoesNotContain(row.Text, char.IsControl));
            screen.Click(random.Next(-1, 201), random.Next(-1, 71), shown);
        }
    }

    [Fact]
    public void A_hostile_name_of_a_sender_cannot_move_the_cursor()
    {
        const string name = "'\u001b[2J\r\n\u009b1;1Hevil\u202e'";
        RigPicture unit = Hall.At(30, "LX2-1");
        UniversePicture first = Picture.Universes[0];
        SenderPicture hostile = first.Senders[0] with { Name = name };
        RigPicture picture = Picture with
        {
            Universes = [first with { Lazily = new Lazy<IReadOnlyList<SenderPicture>>(() => [hostile]) }],
            Survey = Picture.Survey with { Findings = [.. Picture.Survey.Findings.Select(finding => finding with { Subject = name, Text = name, Action = name, Cautions = [name] })] },
            Unit = unit.Unit! with
            {
                Name = name,
                Findings = [.. unit.Unit.Findings.Select(finding => finding with { Text = name })],
                Explanation = unit.Unit.Explanation! with
                {
                    Unit = unit.Unit.Explanation.Unit with { Unit = name, Type = name },
                    Senders = [.. unit.Unit.Explanation.Senders.Select(view => view with { Sender = view.Sender with { Name = name } })],
                },
            },
        };
        foreach (ScreenView view in Enum.GetValues<ScreenView>())
        {
            Screen screen = NewScreen();
            screen.State.View = view;
            Assert.All(screen.Rows(picture, 80, 24), row => Assert.DoesNotContain(row.Text, letter => char.IsControl(letter) || letter == '\u202e'));
        }
    }

    [Fact]
    public void A_finding_is_named_in_the_row_of_its_universe_as_everywhere_else()
    {
        UniversePicture first = Picture.Universes.First(universe => universe.Worst is not null);
        RigPicture picture = Picture with { Universes = [first with { Worst = first.Worst! with { Id = "several-art-net-senders" } }] };
        Assert.Contains(NewScreen().Rows(picture, 160, 24), row => row.Text.Contains(": several Art-Net senders", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("")]
    [InlineData("gLX1-6\n")]
    [InlineData("g1-6\nd")]
    [InlineData("g1-6\ndn1l")]
    [InlineData("g1-6\ndy")]
    [InlineData("cyn")]
    public void A_window_that_was_resized_looks_as_one_that_was_not(string keys) =>
        Assert.Equal(Hall.Draw(80, 24, color: true, keys), Hall.Draw(80, 24, color: true, keys, app =>
        {
            foreach ((int width, int height) in new[] { (120, 40), (10, 3), (79, 24), (200, 8), (1, 1), (80, 7), (80, 24) })
            {
                app.Driver!.SetScreenSize(width, height);
                app.LayoutAndDraw();
                Assert.Equal(height, app.Driver.Contents!.GetLength(0));
            }

            return Hall.Text(app, 24);
        }));

    [Theory]
    [InlineData("")]
    [InlineData("u")]
    [InlineData("gLX2-1\n")]
    [InlineData("t")]
    [InlineData("f")]
    [InlineData("g1-6\ndn1l")]
    [InlineData("cyn")]
    public void Without_colour_every_cell_has_the_terminals_own_colours(string keys)
    {
        Assert.All(Colours(keys, color: false), colour => Assert.Equal(Color.None, colour));
        Assert.Contains(Colours(keys, color: true), colour => colour != Color.None);
    }

    private static Color?[] Colours(string keys, bool color) => Hall.Draw(80, 24, color, keys, app =>
        app.Driver!.Contents!.Cast<Cell>().SelectMany(cell => new[] { cell.Attribute?.Foreground, cell.Attribute?.Background }).Distinct().ToArray());

    [Fact]
    public void Pictures_come_less_often_than_three_a_second()
    {
        List<RigPicture> pictures = [];
        using ICaptureSource source = CaptureFile.Open(Hall.Network, LineFileOptions.None);
        new SnapshotSource(source, LineOptions.Found, Hall.Sheet, _wish).Run(pictures.Add, default);
        Assert.True(pictures[^1].Ended);
        for (int each = 1; each < pictures.Count - 1; each++)
        {
            Assert.True((pictures[each].At - pictures[each - 1].At).TotalSeconds > 1.0 / 3);
        }
    }

    [Fact]
    public void A_unit_wished_after_the_end_of_the_input_is_answered()
    {
        using CancellationTokenSource stop = new();
        using ICaptureSource source = CaptureFile.Open(Hall.Network, LineFileOptions.None);
        UnitPicture? unit = null;
        new SnapshotSource(source, LineOptions.Found, Hall.Sheet, _wish).Run(
            picture =>
            {
                unit = picture.Unit;
                if (unit is not null)
                {
                    stop.Cancel();
                }
                else if (picture.Ended)
                {
                    _wish.Unit = "LX1-6";
                }
            },
            stop.Token,
            stays: true);
        Assert.Equal("LX1-6", unit?.Name);
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

    private Screen NewScreen() => new(Hall.Sheet, TimeZoneInfo.Utc, _wish, null, Hall.Guides());
}
