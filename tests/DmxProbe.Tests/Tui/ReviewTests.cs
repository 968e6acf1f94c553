using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Index;
using DmxProbe.Analysis.Locate;
using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Walk;
using DmxProbe.Capture.Files;
using DmxProbe.Capture.Recording;
using DmxProbe.Cli;
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

/// <summary>The views of <c>review</c> over Harbour Hall.</summary>
public sealed class ReviewTests : IDisposable
{
    private static readonly SurveySnapshot Survey = Surveyed();
    private readonly ScreenWish _wish = new();
    private readonly ReviewIndex _index = ReviewIndex.Open(RecordedParts.Open(Hall.Network));
    private readonly ReviewPictures _review;
    private readonly Screen _screen;

    public ReviewTests()
    {
        _review = new ReviewPictures(_index, Survey, Hall.Sheet, _wish, Walk);
        _screen = new Screen(Hall.Sheet, TimeZoneInfo.Utc, _wish, _review, Hall.Guides());
    }

    public void Dispose()
    {
        _index.Dispose();
        _wish.Dispose();
    }

    [Theory]
    [InlineData("review-rig", "j30\n")]
    [InlineData("review-universe", "j30\ngLX1-6\nu")]
    [InlineData("review-unit", "j30\ngLX1-6\n")]
    [InlineData("review-findings", "j30\naj35\nbf")]
    public void A_view_looks_as_expected_with_colour_and_without(string name, string keys)
    {
        foreach ((int width, int height) in new[] { (80, 24), (120, 40) })
        {
            string withColor = Draw(width, height, color: true, keys);
            Assert.Equal(withColor, Draw(width, height, color: false, keys));
            Golden.Matches($"screen-{name}-{width}", withColor);
        }
    }

    // The story "scrub to the moment a look was lost": to the unit, then to where it next goes dark; the reason stands there.
    [Fact]
    public void The_moment_a_look_was_lost_is_reached_by_keys_alone()
    {
        const string keys = "g1-6\nl";
        Assert.True(keys.Length <= 12);
        string screen = Draw(80, 24, color: false, keys);
        Assert.Contains("LX1-6 is dark because", screen, StringComparison.Ordinal);
        Assert.Contains(" Unit LX1-6   19:41:39.517", screen, StringComparison.Ordinal);
        Assert.Contains("expected look: [        ] dark", screen, StringComparison.Ordinal);

        // It comes on again a second later.
        Assert.Contains("LX1-6 should be lit", Draw(80, 24, color: false, keys + "l"), StringComparison.Ordinal);
    }

    // Live and replay give the same: what the review files say of a moment is what the analyzers said when it was live.
    [Theory]
    [InlineData(5, "LX1-6")]
    [InlineData(17, "LX2-1")]
    [InlineData(30, "LX1-6")]
    [InlineData(41, "FL-3")]
    public void A_moment_is_shown_as_it_was_live(double seconds, string unit)
    {
        RigPicture live = Hall.At(seconds, unit);
        _wish.Unit = unit;
        _review.Line.Go(live.At);
        RigPicture again = _review.Picture();
        Assert.Equal(live.At, again.At);
        foreach (UniversePicture universe in live.Universes)
        {
            UniversePicture other = again.Universes.Single(each => each.Summary.Id == universe.Summary.Id);
            Assert.Equal(universe.Senders.Select(sender => (sender.Name, sender.Obeyed)).Order(), other.Senders.Select(sender => (sender.Name, sender.Obeyed)).Order());
            foreach (SenderPicture sender in universe.Senders.Where(sender => sender.Recent is not null))
            {
                SenderPicture found = other.InDetail!.Value.Single(each => each.Name == sender.Name);
                Assert.Equal(sender.Recent!.Levels, found.Recent!.Levels);
                Assert.Equal(sender.Recent.Frames, found.Recent.Frames);
                long lately = (live.At - ReviewMoments.Lately).UnixNanoseconds;
                Assert.Equal(sender.Recent.Changed.Select(changed => changed > lately ? changed : long.MinValue), found.Recent.Changed);
            }
        }

        Assert.Equal(
            live.Unit!.Explanation!.Senders.Select(view => (view.Sender.Name, view.InCharge, view.State, view.Light)).Order(),
            again.Unit!.Explanation!.Senders.Select(view => (view.Sender.Name, view.InCharge, view.State, view.Light)).Order());
        foreach (Analysis.Explain.SenderView view in live.Unit.Explanation.Senders)
        {
            Assert.Equal(view.Slots, again.Unit.Explanation.Senders.Single(each => each.Sender.Name == view.Sender.Name).Slots);
        }
    }

    // Who decides each slot of a moment stands there as it stood there live (a second late at most, so not right behind a change): by the priority of packets, of slots, by merging.
    [Theory]
    [InlineData(0.95)]
    [InlineData(3)]
    [InlineData(5.4)]
    [InlineData(9.6)]
    [InlineData(10.9)]
    public void Who_decides_each_slot_is_told_of_a_moment_as_it_was_live(double seconds)
    {
        const string file = "captures/" + Testing.Arbitration.WhoWins.File;
        using ReviewIndex index = ReviewIndex.Open(RecordedParts.Open(file));
        SurveyAnalyzer surveyor = new(ReviewPictures.KeptChanges);
        using ICaptureSource source = CaptureFile.Open(file, LineFileOptions.None);
        SurveySnapshot survey = Surveyor.Run(source, new RecordDecoder(), surveyor, surveyor, default);
        ScreenSheet none = new(null, null);
        ReviewPictures review = new(index, survey, none, _wish, _ => throw new InvalidOperationException());
        int told = 0;
        foreach (UniverseId universe in survey.Universes.Select(universe => universe.Id))
        {
            RigPicture live = Hall.At(seconds, new Wished(null, universe, false), file);
            review.Line.Go(live.At);
            _wish.Set(null, universe, false);
            RigPicture again = review.Picture();
            if (live.Universes.FirstOrDefault(each => each.Summary.Id == universe) is { Senders.Count: > 0, Winners.Count: > 0 } then && then.Senders.Any(sender => sender.Recent is not null))
            {
                ScreenState state = new() { View = ScreenView.Universe, Universe = universe };
                Assert.Equal(Decided(live, state, none), Decided(again, state, none));
                told++;
            }
        }

        Assert.InRange(told, 2, 8);
    }

    [Fact]
    public void Behind_what_was_kept_it_is_said_that_slots_are_not_told_one_by_one()
    {
        UniverseSummary sent = Survey.Universes.First(universe => universe.Id.Label == "sACN 2");
        SurveySnapshot cut = Survey with { Universes = [.. Survey.Universes.Select(universe => universe.Id == sent.Id ? universe with { Arbitration = universe.Arbitration! with { ChangesNotListed = 1, FirstChangeNotListed = Survey.First } } : universe)] };
        ReviewPictures review = new(_index, cut, Hall.Sheet, _wish, Walk);
        review.Line.Go(Survey.First!.Value + Duration.FromSeconds(30));
        _wish.Set(null, sent.Id, false);
        string decided = Decided(review.Picture(), new ScreenState { View = ScreenView.Universe, Universe = sent.Id }, Hall.Sheet);
        Assert.Contains("decided by: ", decided, StringComparison.Ordinal);
        Assert.Contains("slot by slot it changed too often to be kept up to here", decided, StringComparison.Ordinal);
    }

    // What is said of who decides, and the marks of the rows; senders in review stand in the order of who is obeyed then.
    private static string Decided(RigPicture picture, ScreenState state, ScreenSheet sheet)
    {
        List<ScreenRow> rows = [];
        UniverseView.AddTo(rows, picture, state, sheet, 160, 60);
        return string.Join('\n', rows.Select(row => row.Text).Where(text => text.StartsWith(" sent by", StringComparison.Ordinal) || text.StartsWith(" decided", StringComparison.Ordinal)
            || System.Text.RegularExpressions.Regex.IsMatch(text, @"^ +\d+[?/ ]")));
    }

    [Fact]
    public void Stepping_goes_from_change_to_change_and_back()
    {
        _screen.State.Universe = _review.Picture().Universes.Single(universe => universe.Summary.Id.Label.StartsWith("Art-Net", StringComparison.Ordinal)).Summary.Id;
        List<Timestamp> there = [];
        for (int step = 0; step < 20; step++)
        {
            Press('.');
            there.Add(_review.Line.At);
        }

        Assert.Equal(there.Order().Distinct(), there);
        for (int step = 18; step >= 0; step--)
        {
            Press(',');
            Assert.Equal(there[step], _review.Line.At);
        }
    }

    [Theory]
    [InlineData("30", 30)]
    [InlineData("19:41:20", 20)]
    [InlineData("99999", 59.9)]
    public void A_time_is_typed(string typed, double seconds)
    {
        Press('j');
        foreach (char letter in typed)
        {
            Press(letter);
        }

        _screen.Press(new ScreenKey(KeyKind.Enter), _review.Picture());
        Assert.InRange((_review.Line.At - _review.Line.First).TotalSeconds, seconds - 0.1, seconds + 0.1);
    }

    [Fact]
    public void What_is_no_time_is_refused_in_a_sentence()
    {
        foreach (char letter in "jhalf past\u001b[2J")
        {
            Press(letter);
        }

        _screen.Press(new ScreenKey(KeyKind.Enter), _review.Picture());
        Assert.StartsWith("Write 19:41:07, 12.5 (seconds) or t1:00:12:05, not 'half past", _screen.State.Answer, StringComparison.Ordinal);
        Assert.DoesNotContain(_screen.State.Answer, char.IsControl);
    }

    [Fact]
    public void It_plays_at_its_speed_goes_round_between_the_points_and_stops_at_the_end()
    {
        TimeLine line = _review.Line;
        line.Go(line.First + Duration.FromSeconds(10));
        Press('a');
        line.Go(line.First + Duration.FromSeconds(12));
        Press('b');
        line.Go(line.First + Duration.FromSeconds(11));
        Press('+');
        Press(' ');
        line.Pass(TimeSpan.FromSeconds(0.4));
        Assert.Equal(11.8, (line.At - line.First).TotalSeconds, 6);
        line.Pass(TimeSpan.FromSeconds(0.4));
        Assert.Equal(10, (line.At - line.First).TotalSeconds, 6);
        line.Go(line.Last - Duration.FromSeconds(0.1));
        line.Pass(TimeSpan.FromSeconds(5));
        Assert.Equal(line.Last, line.At);
        Assert.False(line.Playing);
    }

    [Fact]
    public void An_answer_and_what_a_key_could_not_do_stand_whole_on_80_columns()
    {
        string[] unit = Draw(80, 24, color: false, "j30\ngHZ-1\n").Split('\n');
        int answered = Array.FindIndex(unit, row => row.StartsWith(" hazer, 2 slot", StringComparison.Ordinal));
        Assert.InRange(answered, 5, 10);
        Assert.DoesNotContain(unit.Take(answered), row => row.EndsWith('…'));
        string refused = string.Join(' ', Draw(80, 24, color: false, "l").Split(['\n', ' '], StringSplitOptions.RemoveEmptyEntries));
        Assert.Contains("this finds when it next goes dark, comes on or starts to flash.", refused, StringComparison.Ordinal);
    }

    // `locate --ask --controller looks` on the same capture asks for the same looks.
    [Fact]
    public void The_looks_that_the_command_asks_for_are_asked_for_with_a_key_that_is_shown()
    {
        Screen screen = Recorded(() => ReviewScreen.Levels(Hall.Network, default));
        string atHand = Type(screen, "g1-6\ndn");
        Assert.Contains("[ 6 ] only looks that exist", atHand, StringComparison.Ordinal);
        Assert.Contains("a recording cannot be changed", atHand, StringComparison.Ordinal);
        string first = Type(screen, "6");
        Assert.Contains("question 1", first, StringComparison.Ordinal);
        string[] locate = ["locate", Hall.Network, "--patch", Hall.Folder + "patch.csv", "--unit", "LX1-6", "--ask", "--controller", "looks"];
        string asked = "";
        ProgramRun.Asked(text =>
        {
            asked = text.Contains("Question 1:", StringComparison.Ordinal) && asked.Length == 0 ? text[text.IndexOf("Question 1:", StringComparison.Ordinal)..] : asked;
            return asked.Length > 0 ? "q" : "no";
        }, locate);
        string words = string.Join(' ', asked["Question 1:".Length..].Split(['\n', ' '], StringSplitOptions.RemoveEmptyEntries));
        Assert.Contains(words, first, StringComparison.Ordinal);
    }

    [Fact]
    public void Where_no_look_may_be_asked_for_the_keys_that_serve_are_said_and_work()
    {
        // Heads that stand elsewhere at the end: every look before would move them.
        Screen screen = Recorded(() =>
        {
            IReadOnlyList<SlotHistory> levels = ReviewScreen.Levels(Hall.Network, default);
            foreach (SlotHistory history in levels)
            {
                history.Record(history.Samples, new byte[SlotHistory.SlotCount]);
                history.ExtendTo(history.Samples + 1);
            }

            return levels;
        });
        Type(screen, "g1-6\ndn");
        Assert.Contains("Press 1 for ranges, or 2 to 5 for pages of faders.", Type(screen, "6"), StringComparison.Ordinal);
        Assert.Contains("question 1", Type(screen, "1"), StringComparison.Ordinal);
    }

    [Fact]
    public void A_function_check_of_a_recording_goes_by_what_it_shows()
    {
        string check = Type(Recorded(() => []), "c");
        Assert.DoesNotContain("now move", check, StringComparison.Ordinal);
        Assert.DoesNotContain("raise slowly", check, StringComparison.Ordinal);
        Assert.Contains("was not moved alone in this recording: this goes by what it shows.", check, StringComparison.Ordinal);
    }

    private Screen Recorded(Func<IReadOnlyList<SlotHistory>> levels) => new(
        Hall.Sheet, TimeZoneInfo.Utc, _wish, _review, new ScreenGuides(Hall.Patch, null, TimeZoneInfo.Utc, new SteppedClock()) { IsRecording = true, Recorded = levels });

    // What is shown after keys, as one text.
    private string Type(Screen screen, string keys)
    {
        foreach (char key in keys)
        {
            screen.Press(key == '\n' ? new ScreenKey(KeyKind.Enter) : ScreenKey.Typed(key), _review.Picture());
            _ = screen.Rows(_review.Picture(), 120, 40);
        }

        return string.Join(' ', screen.Rows(_review.Picture(), 120, 40).Select(row => row.Text.Trim()).Where(row => row.Length > 0));
    }

    [Fact]
    public void A_click_on_the_time_line_goes_there()
    {
        IReadOnlyList<ScreenRow> rows = _screen.Rows(_review.Picture(), 80, 24);
        int row = rows.ToList().FindIndex(each => each.Text.Contains("--", StringComparison.Ordinal) && each.Text.Contains('#'));
        _screen.Click(TimeLineRows.LineFrom + (TimeLineRows.LineWidth(80) / 2), row, _review.Picture());
        Assert.InRange((_review.Line.At - _review.Line.First).TotalSeconds, 28, 32);
    }

    [Fact]
    public void A_finding_goes_to_its_moment_and_the_slots()
    {
        _review.Line.Go(_review.Line.Last);
        Press('f');
        _screen.Press(new ScreenKey(KeyKind.Enter), _review.Picture());
        Assert.Equal(ScreenView.Universe, _screen.State.View);
        Assert.Equal(Survey.Findings[0].From, _review.Line.At);
    }

    [Fact]
    public void Every_key_is_in_sight_on_80_columns_and_24_rows_and_what_is_not_is_said()
    {
        Press('?');
        string[] rows = [.. _screen.Rows(_review.Picture(), 80, 24).Select(row => row.Text)];
        string all = string.Join('\n', rows);
        foreach (string words in new[] { "D       a unit that does not follow", "C       the function check", "Q       ends", "J       a time, or time code", "+ and - faster and slower", "A mouse works too" })
        {
            Assert.Contains(words, all, StringComparison.Ordinal);
        }

        Assert.All(rows[..20], row => Assert.DoesNotContain("…", row, StringComparison.Ordinal));
        Assert.DoesNotContain("more below", all, StringComparison.Ordinal);
        Assert.Contains(_screen.Rows(_review.Picture(), 80, 14), row => row.Text.Contains("more below", StringComparison.Ordinal));

        // Where there is room the keys are told at length.
        string[] high = [.. _screen.Rows(_review.Picture(), 80, 40).Select(row => row.Text)];
        Assert.Contains(high, row => row.EndsWith("t1:00:12:05", StringComparison.Ordinal));
    }

    [Fact]
    public void No_size_and_no_key_breaks_the_screen()
    {
        Random random = new(21);
        KeyKind[] kinds = Enum.GetValues<KeyKind>();
        for (int turn = 0; turn < 600; turn++)
        {
            KeyKind kind = kinds[random.Next(kinds.Length)];
            _screen.Press(new ScreenKey(kind, kind == KeyKind.Letter ? (char)random.Next(1, 400) : '\0'), _review.Picture());
            int width = random.Next(1, 200);
            int height = random.Next(1, 70);
            IReadOnlyList<ScreenRow> rows = _screen.Rows(_review.Picture(), width, height);
            Assert.InRange(rows.Count, 0, height);
            Assert.All(rows, row => Assert.DoesNotContain(row.Text, char.IsControl));
            _screen.Click(random.Next(-1, 201), random.Next(-1, 71), _review.Picture());
        }
    }

    // ArtTimeCode as Art-Net 4 (1.4dn, page 64) numbers it: 25 frames a second, from 01:00:00:00 on, ten seconds in.
    [Fact]
    public void Time_code_is_shown_where_it_was_sent_and_leads_to_its_moment()
    {
        TimeCodeAnalyzer code = new();
        for (int frame = 0; frame < 25 * 20; frame++)
        {
            long second = frame / 25;
            code.OnEvent(new LinkEvent(LinkEventKind.ArtTimeCode, _review.Line.First + Duration.FromSeconds(10 + (frame / 25.0)), frame + 1, -1, default, (1L << 24) | (second << 8) | (long)(frame % 25), 1));
        }

        ReviewPictures review = new(_index, Survey, Hall.Sheet, _wish, Walk) { TimeCode = code };
        Screen screen = new(Hall.Sheet, TimeZoneInfo.Utc, _wish, review, Hall.Guides());
        Assert.DoesNotContain("time code", screen.Rows(review.Picture(), 80, 24)[0].Text, StringComparison.Ordinal);
        foreach (char letter in "jt1:00:12:05")
        {
            screen.Press(ScreenKey.Typed(letter), review.Picture());
        }

        screen.Press(new ScreenKey(KeyKind.Enter), review.Picture());
        Assert.Equal(22.2, (review.Line.At - review.Line.First).TotalSeconds, 3);
        Assert.Contains("time code 01:00:12:05", screen.Rows(review.Picture(), 80, 24)[0].Text, StringComparison.Ordinal);
    }

    [Fact]
    public void It_opens_where_every_universe_has_been_heard_and_says_what_was_not()
    {
        _review.Line.Go(_review.Opening);
        Assert.DoesNotContain(_screen.Rows(_review.Picture(), 80, 24), row => row.Text.Contains("not heard yet", StringComparison.Ordinal));
        _review.Line.Go(_review.Line.First);
        string rows = string.Join('\n', _screen.Rows(_review.Picture(), 80, 24).Select(row => row.Text));
        Assert.Contains("not heard yet", rows, StringComparison.Ordinal);
    }

    private static SurveySnapshot Surveyed()
    {
        using ICaptureSource source = CaptureFile.Open(Hall.Network, LineFileOptions.None);
        return Surveyor.Run(source, default);
    }

    private void Press(char letter) => _screen.Press(ScreenKey.Typed(letter), _review.Picture());

    private string Draw(int width, int height, bool color, string keys)
    {
        _wish.Unit = null;
        ReviewPictures review = new(_index, Survey, Hall.Sheet, _wish, Walk);
        using IApplication app = Application.Create(new VirtualTimeProvider());
        app.Init(DriverRegistry.Names.ANSI);
        app.Driver!.SetScreenSize(width, height);
        using ScreenWindow window = new(new Screen(Hall.Sheet, TimeZoneInfo.Utc, _wish, review, Hall.Guides()), review.Picture, color);
        SessionToken? session = app.Begin(window);
        app.LayoutAndDraw();
        foreach (char letter in keys)
        {
            app.InjectKey(letter == '\n' ? Key.Enter : new Key(letter));
        }

        app.LayoutAndDraw();
        string text = Hall.Text(app, height);
        app.End(session!);
        return text;
    }

    private static WalkResult Walk(IReadOnlyList<WalkTarget> targets) => ReviewScreen.Walk(Hall.Network, targets, default);
}
