using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Decoding.Line;
using DmxProbe.Analysis.Walk;
using DmxProbe.Capture.Files;
using DmxProbe.Cli.Ask;
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

/// <summary>The guided screens: locate and the function check, by single keys, and the file they share with the commands.</summary>
public sealed class GuideTests : IDisposable
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("dmxprobe-guide-");
    private readonly ScreenWish _wish = new();

    private string Log => Path.Combine(_folder.FullName, "kept.csv");

    public void Dispose()
    {
        _wish.Dispose();
        _folder.Delete(recursive: true);
    }

    [Theory]
    [InlineData('1')]
    [InlineData('2')]
    public void A_light_is_located_by_single_keys_from_the_screen_of_its_unit(char atHand)
    {
        (Screen screen, _) = At("g1-6\ndn" + atHand);
        Stage stage = new(16);
        for (int turn = 0; turn < 60 && !Text(screen).Contains("LX1-6 reads", StringComparison.Ordinal); turn++)
        {
            string shown = Text(screen);
            Assert.Contains("Mind: LX1-6 may read anything", shown, StringComparison.Ordinal);
            Press(screen, stage.Answer("Question " + shown) == "lit" ? "l" : "d");
        }

        string answer = Text(screen);
        Assert.Contains("LX1-6 reads 1.016, not 1.061 as the sheet says: digits swapped.", answer, StringComparison.Ordinal);
        Assert.Contains("Confirmed: LX1-6 lit in the confirming look", answer, StringComparison.Ordinal);
        Assert.Contains("Mind: ", answer, StringComparison.Ordinal);
        Assert.InRange(stage.Questions, 4, 40);
    }

    [Fact]
    public void With_an_audience_in_no_question_is_put()
    {
        (Screen screen, ScreenGuides guides) = At("g1-6\ndy");
        Assert.Contains("With an audience in nothing is raised", Text(screen), StringComparison.Ordinal);
        Assert.Empty(guides.Locate!.Keys());
    }

    [Fact]
    public void What_the_screen_was_told_the_command_goes_on_from_and_the_other_way_round()
    {
        string[] locate = ["locate", Hall.Network, "--patch", Hall.Folder + "patch.csv", "--unit", "LX1-6", "--log", Log];
        Stage begun = new(16) { StopAfter = 2 };
        Assert.Equal(3, ProgramRun.Asked(begun.Answer, [.. locate, "--ask", "--controller", "ranges"]).Code);
        int lines = File.ReadAllLines(Log).Length;

        (Screen screen, _) = At("g1-6\ndn1", new AskLog(Log, new SteppedClock()));
        Assert.Contains("go on from it", Text(screen), StringComparison.Ordinal);
        Stage stage = new(16);
        Press(screen, stage.Answer("Question " + Text(screen)) == "lit" ? "l" : "d");
        Assert.Equal(lines + 1, File.ReadAllLines(Log).Length);

        Stage rest = new(16);
        ProgramRun ended = ProgramRun.Asked(rest.Answer, [.. locate, "--ask", "--controller", "ranges"]);
        Assert.Equal(1, ended.Code);
        Assert.Contains("LX1-6 reads 1.016", ended.Output, StringComparison.Ordinal);
        Assert.Contains(",LX1-6,as left,", File.ReadAllText(Log), StringComparison.Ordinal);
    }

    [Fact]
    public void An_answer_is_taken_back_on_the_screen_and_in_the_file()
    {
        (Screen screen, _) = At("g1-6\ndn1", new AskLog(Log, new SteppedClock()));
        string first = Text(screen);
        Press(screen, "l");
        Assert.NotEqual(first, Text(screen));
        Assert.Equal(2, File.ReadAllLines(Log).Length);
        Press(screen, "b");
        Assert.Equal(first, Text(screen));
        Assert.Single(File.ReadAllLines(Log));
        Press(screen, "b");
        Assert.Equal(first, Text(screen));
    }

    [Fact]
    public void The_answer_says_how_it_was_left_and_can_still_be_taken_back()
    {
        (Screen screen, _) = At("g1-6\ndn1", new AskLog(Log, new SteppedClock()));
        Stage stage = new(16);
        for (int turn = 0; turn < 60 && !Text(screen).Contains("LX1-6 reads", StringComparison.Ordinal); turn++)
        {
            Press(screen, stage.Answer("Question " + Text(screen)) == "lit" ? "l" : "d");
        }

        Press(screen, "s");
        Assert.Contains("how it was left: set as told", Text(screen), StringComparison.Ordinal);
        Assert.Contains("as left", File.ReadAllText(Log), StringComparison.Ordinal);
        Press(screen, "b");
        Assert.DoesNotContain("as found", File.ReadAllText(Log), StringComparison.Ordinal);
        Assert.Contains("question", Text(screen), StringComparison.Ordinal);
    }

    [Fact]
    public void A_letter_that_missed_does_not_lead_away_from_a_question()
    {
        (Screen screen, ScreenGuides guides) = At("g1-6\ndn1");
        string shown = Text(screen);
        Press(screen, "?");
        Assert.Contains("Here: the large keys", Text(screen), StringComparison.Ordinal);
        Press(screen, "rtgxk");
        Assert.Equal(shown, Text(screen));
        screen.Press(new ScreenKey(KeyKind.Back), Picture());
        Assert.Equal(ScreenView.Unit, screen.State.View);
        Press(screen, "d");
        Assert.Equal(shown, Text(screen));
        Assert.NotNull(guides.Locate);
    }

    // `locate --ask --screen` has no rig behind the questions.
    [Theory]
    [InlineData("?")]
    [InlineData("n?")]
    [InlineData("n1?")]
    public void Questions_that_stand_alone_say_their_keys_too(string keys)
    {
        Screen screen = Alone(null);
        foreach (char key in keys)
        {
            Assert.True(screen.Press(ScreenKey.Typed(key), null));
        }

        Assert.Contains("Here: the large keys answer", string.Join(' ', screen.Rows(null, 80, 24).Select(row => row.Text)), StringComparison.Ordinal);
        screen.Press(new ScreenKey(KeyKind.Down), null);
        Assert.Contains("Esc stops here", screen.Rows(null, 80, 24)[^1].Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Work_goes_on_apart_from_the_screen_which_says_so()
    {
        List<Action> waiting = [];
        ScreenGuides guides = new(Hall.Patch, null, TimeZoneInfo.Utc, new SteppedClock(), waiting.Add);
        Screen screen = new(Hall.Sheet, TimeZoneInfo.Utc, _wish, null, guides);
        Press(screen, "g1-6\nd");
        Assert.Contains("One moment", Text(screen), StringComparison.Ordinal);
        Press(screen, "nnn");
        int before = screen.Version;
        waiting[0]();
        Assert.NotEqual(before, screen.Version);
        Assert.Contains("is an audience in?", Text(screen), StringComparison.Ordinal);
        Press(screen, "n");
        Assert.Equal(2, waiting.Count);
    }

    // Only the picture of the unit holds the levels of all universes: what was shown before it had none to compare.
    [Fact]
    public void Locating_a_unit_just_gone_to_waits_for_its_picture()
    {
        RigPicture before = Hall.At(30);
        Assert.All(before.Universes.SelectMany(universe => universe.Senders), sender => Assert.Empty(sender.Recent?.Levels ?? []));
        ScreenGuides guides = Hall.Guides();
        Screen screen = new(Hall.Sheet, TimeZoneInfo.Utc, _wish, null, guides);
        Press(screen, "g1-6\nd", before);
        Assert.Equal(ScreenView.Unit, screen.State.View);
        Assert.Null(guides.Locate);

        // Its picture comes.
        Assert.Contains("is an audience in?", Text(screen), StringComparison.Ordinal);
        Assert.Equal("", guides.Locate!.Problem);
    }

    [Fact]
    public void Whoever_goes_on_before_the_picture_has_come_is_not_taken_to_the_questions_later()
    {
        ScreenGuides guides = Hall.Guides();
        Screen screen = new(Hall.Sheet, TimeZoneInfo.Utc, _wish, null, guides);
        Press(screen, "g1-6\ndnp", Hall.At(30));
        Assert.Equal("LX1-6", screen.State.Unit);
        Assert.DoesNotContain("is an audience in?", Text(screen), StringComparison.Ordinal);
        Assert.Equal(ScreenView.Unit, screen.State.View);
        Assert.Null(guides.Locate);
    }

    // What stands on the wire is the end of the recording, whatever is asked for: that is told in the words of the dialogue.
    [Fact]
    public void On_the_screen_too_an_answer_counts_for_what_is_on_the_wire()
    {
        using HeardWire heard = new(Hall.Network);
        using AskWire wire = new(() => heard);
        Screen screen = Alone(wire, out LocateGuide guide);
        Press(screen, "n1");
        Assert.True(heard.IsOver.Wait(TimeSpan.FromSeconds(30)));

        Press(screen, "d");
        Assert.Contains("On the wire ", Text(screen), StringComparison.Ordinal);
        Assert.Contains("Your answer counts for what is sent, not for what was asked.", Text(screen), StringComparison.Ordinal);
        Assert.Single(guide.Answers);
    }

    // The questions opened from the watched rig read the wire that the rig is watched on: one pipeline, no second socket.
    [Fact]
    public void Questions_opened_while_watching_are_weighed_with_what_is_heard_there()
    {
        const int perStep = 3;
        WatchedWire wire = new();
        ScreenGuides guides = Hall.Guides(wire: wire);
        using IApplication app = Application.Create(new VirtualTimeProvider());
        app.Init(DriverRegistry.Names.ANSI);
        app.Driver!.SetScreenSize(120, 40);
        RigPicture? latest = null;
        using ScreenWindow window = new(new Screen(Hall.Sheet, TimeZoneInfo.Utc, _wish, null, guides), () => latest, color: false);
        SessionToken? session = app.Begin(window);
        Queue<string> keys = new(["g1-6\n", "d", "n", "1"]);
        UniverseId[] first = [];
        int pictures = 0;
        using ICaptureSource source = CaptureFile.Open(Hall.Network, LineFileOptions.None);
        new SnapshotSource(source, LineOptions.Found, Hall.Sheet, _wish, wire).Run(
            picture =>
            {
                latest = picture;
                if (++pictures % perStep == 0 && picture.At - picture.Survey.First >= Duration.FromSeconds(20) && keys.TryDequeue(out string? next))
                {
                    first = [.. picture.Universes.Select(universe => universe.Summary.Id)];
                    Assert.Null(keys.Count >= 1 ? wire.Levels(first, [.. first.Select(_ => new byte[512])]) : null);
                    Type(app, next);
                }
            },
            default);
        Assert.Empty(keys);
        Assert.NotNull(wire.Levels(first, [.. first.Select(_ => new byte[512])]));

        Type(app, "d");
        string screen = string.Join(' ', Hall.Text(app, 40).Split(['\n', ' '], StringSplitOptions.RemoveEmptyEntries));
        app.End(session!);
        Assert.Contains("On the wire ", screen, StringComparison.Ordinal);
        Assert.Contains("Your answer counts for what is sent, not for what was asked.", screen, StringComparison.Ordinal);
        Assert.Single(guides.Locate!.Answers);
    }

    // Every sender falls silent 15 s in and comes back 20 s later; "dark" of a light that nobody sends to says nothing.
    [Theory]
    [InlineData(80, 24)]
    [InlineData(120, 40)]
    public void While_nobody_sends_what_was_asked_for_no_answer_is_taken_and_the_screen_says_so_before(int width, int height)
    {
        WatchedWire wire = new();
        AskLog log = new(Log, new SteppedClock());
        ScreenGuides guides = Hall.Guides(log, wire);
        using IApplication app = Application.Create(new VirtualTimeProvider());
        app.Init(DriverRegistry.Names.ANSI);
        app.Driver!.SetScreenSize(width, height);
        RigPicture? latest = null;
        using ScreenWindow window = new(new Screen(Hall.Sheet, TimeZoneInfo.Utc, _wish, null, guides), () => latest, color: false);
        SessionToken? session = app.Begin(window);
        string Shown()
        {
            app.LayoutAndDraw();
            return string.Join(' ', Hall.Text(app, height).Split(['\n', ' '], StringSplitOptions.RemoveEmptyEntries));
        }

        const string dead = "now; with people clear, start the controller, or an answer means nothing.";
        Queue<(double Seconds, string Keys, Action<string> Check)> steps = new(
        [
            (10, "g1-6\n", _ => { }),
            (11, "dn", shown => Assert.DoesNotContain("Nobody sends", shown, StringComparison.Ordinal)),
            (30, "1", shown => Assert.Contains(dead, shown, StringComparison.Ordinal)),
            (31, "d", shown => Assert.Contains("Not taken: nobody sends ", shown, StringComparison.Ordinal)),
            (32, "l", _ => Assert.Empty(guides.Locate!.Answers)),
            (33, "u", _ => Assert.Equal(["unsure"], guides.Locate!.Answers)),
            (34, "b", _ => Assert.Empty(guides.Locate!.Answers)),
            (40, "", shown => Assert.DoesNotContain(dead, shown, StringComparison.Ordinal)),
            (41, "d", shown => Assert.DoesNotContain("Not taken", shown, StringComparison.Ordinal)),
        ]);
        using ICaptureSource source = new SilencedSource(CaptureFile.Open(Hall.Network, LineFileOptions.None), 15, 35);
        new SnapshotSource(source, LineOptions.Found, Hall.Sheet, _wish, wire).Run(
            picture =>
            {
                latest = picture;
                window.Refresh();
                if (steps.TryPeek(out (double Seconds, string Keys, Action<string> Check) step) && picture.At - picture.Survey.First >= Duration.FromSeconds(step.Seconds))
                {
                    _ = steps.Dequeue();
                    Type(app, step.Keys);
                    step.Check(Shown());
                }
            },
            default);
        app.End(session!);
        Assert.Empty(steps);
        string[] kept = File.Exists(Log) ? Looks() : [];
        Assert.DoesNotContain("lit", kept);
        Assert.InRange(kept.Length, 0, 1);
    }

    private static void Type(IApplication app, string keys)
    {
        foreach (char key in keys)
        {
            app.LayoutAndDraw();
            app.InjectKey(key == '\n' ? Key.Enter : new Key(key));
        }

        app.LayoutAndDraw();
    }

    [Fact]
    public void Large_keys_can_be_clicked()
    {
        (Screen screen, ScreenGuides guides) = At("g1-6\nd");
        List<ScreenRow> rows = [.. screen.Rows(Picture(), 80, 24)];
        int key = rows.FindIndex(row => row.Text.Contains("| N |", StringComparison.Ordinal));
        screen.Click(rows[key].Text.IndexOf("| N |", StringComparison.Ordinal), key - 1, Picture());
        Assert.Equal(AskStep.Controller, guides.Locate!.Step);
        Assert.NotEqual(AskStep.Audience, guides.Locate.Step);
    }

    [Fact]
    public void A_question_longer_than_the_screen_is_scrolled_to_its_end()
    {
        List<ScreenRow> text = [.. Enumerable.Range(1, 30).Select(row => new ScreenRow($"row {row}"))];
        int top = 0;
        IReadOnlyList<ScreenRow> rows = new GuideRows(text, [BigKey.Letter('L', "lit"), BigKey.Letter('D', "dark")]).LaidOut(80, 20, ref top, (_, _, _, _) => { });
        Assert.Equal(20, rows.Count);
        Assert.Contains(rows, row => row.Text.Contains("more", StringComparison.Ordinal));
        Assert.Contains(rows, row => row.Text.Contains(" L ", StringComparison.Ordinal));
        top = 100;
        rows = new GuideRows(text, [BigKey.Letter('L', "lit"), BigKey.Letter('D', "dark")]).LaidOut(80, 20, ref top, (_, _, _, _) => { });
        Assert.Contains(rows, row => row.Text == "row 30");
    }

    [Fact]
    public void A_unit_without_a_chart_of_light_is_refused_in_a_sentence()
    {
        (Screen screen, _) = At("gHZ\nd");
        Assert.Contains("has no intensity, shutter or colour", Text(screen), StringComparison.Ordinal);
        Assert.True(screen.Press(new ScreenKey(KeyKind.Back), Picture()));
        Assert.Equal(ScreenView.Unit, screen.State.View);
    }

    [Fact]
    public void A_function_check_goes_from_unit_to_unit_and_keeps_what_is_said()
    {
        (Screen screen, ScreenGuides guides) = At("c", new AskLog(Log, new SteppedClock()));
        Assert.Contains("Unit 1 of 26: LX1-1", Text(screen), StringComparison.Ordinal);
        Press(screen, "y");
        Assert.Contains("Unit 2 of 26: LX1-2", Text(screen), StringComparison.Ordinal);
        Press(screen, "n");
        Assert.Contains("1 all right, 1 not right", Text(screen), StringComparison.Ordinal);
        Assert.Equal(["all right", "not right"], Looks());
        Press(screen, "b");
        Assert.Contains("Unit 2 of 26: LX1-2", Text(screen), StringComparison.Ordinal);
        Assert.Equal(["all right"], Looks());
        Press(screen, "n");
        Assert.Equal(1, guides.Walk!.Count(WalkNote.NotRight));

        // The command reads it, and another screen goes on with the first unit that nobody has said anything of.
        ProgramRun walk = ProgramRun.Of("walk", Hall.Network, "--patch", Hall.Folder + "patch.csv", "--notes", Log);
        Assert.Equal("", walk.Error);
        Assert.Equal(1, walk.Code);
        Assert.Contains("Not right", walk.Output, StringComparison.Ordinal);
        Assert.Contains("LX1-2, by your notes", walk.Output, StringComparison.Ordinal);
        (Screen again, _) = At("c", new AskLog(Log, new SteppedClock()));
        Assert.Contains("Unit 3 of 26", Text(again), StringComparison.Ordinal);
    }

    [Fact]
    public void Opening_a_function_check_and_looking_through_it_writes_nothing_and_claims_nothing()
    {
        ProgramRun alone = ProgramRun.Of("walk", Hall.Network, "--patch", Hall.Folder + "patch.csv");
        Assert.Contains("every move fits the sheet", alone.Output, StringComparison.Ordinal);
        (Screen screen, _) = At("c", new AskLog(Log, new SteppedClock()));
        foreach (KeyKind browsed in new[] { KeyKind.Right, KeyKind.Right, KeyKind.Left })
        {
            screen.Press(new ScreenKey(browsed), Picture());
        }

        Assert.Contains("Unit 2 of 26: LX1-2", Text(screen), StringComparison.Ordinal);
        Assert.Contains("every move fits the sheet.", Text(screen), StringComparison.Ordinal);
        Assert.False(File.Exists(Log));

        // An answer says how the unit was, not what was worked on.
        Press(screen, "y");
        Assert.Contains("every move fits the sheet.", Text(screen), StringComparison.Ordinal);
        ProgramRun noted = ProgramRun.Of("walk", Hall.Network, "--patch", Hall.Folder + "patch.csv", "--notes", Log);
        Assert.Contains("every move fits the sheet", noted.Output, StringComparison.Ordinal);
        Assert.Equal(alone.Code, noted.Code);
    }

    [Fact]
    public void One_file_holds_the_check_and_the_questions()
    {
        (Screen screen, _) = At("cd", new AskLog(Log, new SteppedClock()));
        Assert.Contains("Locate LX1-1", Text(screen), StringComparison.Ordinal);
        Press(screen, "n1l");
        screen.Press(new ScreenKey(KeyKind.Back), Picture());
        Assert.Equal(ScreenView.Walk, screen.State.View);
        Press(screen, "n");
        ProgramRun walk = ProgramRun.Of("walk", Hall.Network, "--patch", Hall.Folder + "patch.csv", "--notes", Log);
        Assert.Equal("", walk.Error);
        Assert.Contains("LX1-1, by your notes", walk.Output, StringComparison.Ordinal);
        ProgramRun locate = ProgramRun.Of("locate", Hall.Network, "--patch", Hall.Folder + "patch.csv", "--unit", "LX1-1", "--log", Log);
        Assert.Equal("", locate.Error);
        Assert.Equal(3, locate.Code);
    }

    [Fact]
    public void Other_sizes_get_the_question_and_the_keys_or_the_question_alone()
    {
        (Screen screen, _) = At("g1-6\ndn1");
        for (int width = 10; width < 130; width += 7)
        {
            for (int height = 2; height < 45; height += 3)
            {
                IReadOnlyList<ScreenRow> rows = screen.Rows(Picture(), width, height);
                Assert.InRange(rows.Count, 1, height);
                Assert.All(rows, row => Assert.InRange(row.Text.Length, 0, Math.Max(10, width)));
            }
        }

        Assert.StartsWith("With all intensities", screen.Rows(Picture(), 60, 24)[0].Text, StringComparison.Ordinal);
    }

    private Screen Alone(IAskWire? wire) => Alone(wire, out _);

    // The questions without a rig behind them.
    private Screen Alone(IAskWire? wire, out LocateGuide guide)
    {
        guide = new LocateGuide("LX1-6", () => Hall.Gathered("LX1-6"), null, null, new SteppedClock(), step => step(), wire);
        ScreenGuides guides = Hall.Guides();
        guides.Open(guide);
        Screen screen = new(Hall.Sheet, TimeZoneInfo.Utc, _wish, null, guides);
        screen.State.View = ScreenView.Locate;
        return screen;
    }

    private string[] Looks() => [.. File.ReadAllLines(Log).Skip(1).Select(line => line.Split(',')[2])];

    private RigPicture Picture() => Hall.At(30, _wish.Now);

    private (Screen Screen, ScreenGuides Guides) At(string keys, AskLog? log = null)
    {
        ScreenGuides guides = Hall.Guides(log);
        Screen screen = new(Hall.Sheet, TimeZoneInfo.Utc, _wish, null, guides);
        _ = Text(screen);
        Press(screen, keys);
        return (screen, guides);
    }

    private void Press(Screen screen, string keys, RigPicture? shown = null)
    {
        foreach (char key in keys)
        {
            screen.Press(key == '\n' ? new ScreenKey(KeyKind.Enter) : ScreenKey.Typed(key), shown ?? Picture());
            _ = shown is null ? Text(screen) : screen.Rows(shown, 120, 40)[0].Text;
        }
    }

    // As a person reads it: rows are one text.
    private string Text(Screen screen) => string.Join(' ', screen.Rows(Picture(), 120, 40).Select(row => row.Text.Trim()).Where(row => row.Length > 0));
}
