using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Survey;
using DmxProbe.Cli.Text;
using DmxProbe.Testing.Surveys;

namespace DmxProbe.Tests.Cli.Text;

public class SurveyTextTests
{
    [Theory]
    [InlineData(80)]
    [InlineData(120)]
    public void A_survey_with_everything_in_it_reads_as_expected(int width) =>
        Golden.Matches($"text-full-survey-{width}", Print(FullSurvey.With(), width));

    [Theory]
    [InlineData(80)]
    [InlineData(120)]
    public void Figures_of_every_verdict_and_two_inputs_read_as_expected(int width)
    {
        TextPage page = new(width, color: false);
        TimingText.Write(page, [new("before.pcap", FullSurvey.Timing), new("after.pcap", FullSurvey.Timing)], all: false);
        Golden.Matches($"text-full-timing-{width}", Text(page));
    }

    [Fact]
    public void The_first_sentence_is_the_worst_finding() =>
        Assert.StartsWith(
            "sACN 2 has two senders at the same priority 100: 'main controller' and 'old laptop'.\n",
            Print(FullSurvey.With(), 120),
            StringComparison.Ordinal);

    [Fact]
    public void The_finding_of_the_first_sentence_is_not_said_again_in_the_list()
    {
        string text = string.Join(' ', Print(FullSurvey.With(), 80).Split([' ', '\n'], StringSplitOptions.RemoveEmptyEntries));
        string sentence = FullSurvey.With().Findings[0].Text;
        Assert.Equal(1, text.Split(sentence).Length - 1);
        Assert.Contains("Findings fault senders at equal priority on sACN 2, as said above ", text, StringComparison.Ordinal);
        foreach (Finding other in FullSurvey.With().Findings.Skip(1))
        {
            Assert.Contains(other.Text, text, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void The_demo_says_a_finding_in_full_once_and_in_short_once()
    {
        string text = string.Join(' ', ProgramRun.Of("demo").Output.Split([' ', '\n'], StringSplitOptions.RemoveEmptyEntries));
        Assert.Equal(1, text.Split("two senders at the same priority 100").Length - 1);
        Assert.Contains("In short: senders at equal priority on sACN 2; ", text, StringComparison.Ordinal);
        Assert.DoesNotContain("?.", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Without_findings_the_first_sentence_says_over_what_nothing_was_found() =>
        Assert.StartsWith(
            "Nothing wrong found in 1 universe over 60.0 s (2026-03-14 19:41:00 to 19:42:00 UTC).\n",
            Print(FullSurvey.Clean(), 120),
            StringComparison.Ordinal);

    [Fact]
    public void A_note_alone_is_no_fault_and_does_not_open_the_answer()
    {
        SurveySnapshot survey = FullSurvey.With();
        string text = Print(survey with { Findings = [survey.Findings[2]] }, 120);
        Assert.StartsWith("Nothing wrong found", text, StringComparison.Ordinal);
        Assert.Contains("note     sACN 2: A sender ended its stream.", text, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("\u001b[2J\u001b[H")]
    [InlineData("\u202egnorw")]
    [InlineData("\u009b31m")]
    [InlineData("line\r\nbreak")]
    [InlineData("[bold red]markup[/]")]
    [InlineData("[/]")]
    [InlineData("{0} %s \\")]
    [InlineData("\u200b\u2060\ufeff")]
    [InlineData("\ud800")]
    public void A_hostile_name_moves_no_cursor_and_hides_nothing(string name)
    {
        string text = Print(FullSurvey.With(name, name), 80);
        Assert.DoesNotContain(text, character => char.IsControl(character) && character != '\n');
        Assert.DoesNotContain(text, character => char.IsSurrogate(character)
            || char.GetUnicodeCategory(character) == System.Globalization.UnicodeCategory.Format);
        Assert.Contains(Reporting.Text.Printable.Text(name)[..3], text, StringComparison.Ordinal);
    }

    [Fact]
    public void Two_senders_of_one_name_are_told_apart()
    {
        string text = Print(FullSurvey.With("desk", "desk"), 120);
        Assert.Contains("'desk' (10.20.0.10)", text, StringComparison.Ordinal);
        Assert.Contains("'desk' (10.20.0.77)", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Long_lists_are_bounded_and_shown_whole_on_request()
    {
        SurveySnapshot survey = FullSurvey.With();
        UniverseSummary universe = survey.Universes[0];
        survey = survey with
        {
            Universes = [.. Enumerable.Range(1, 300).Select(number => universe with { Id = universe.Id with { Number = number } })],
            Findings = [survey.Findings[0] with { Subject = "sACN 299" }],
        };
        string bounded = Print(survey, 120);
        Assert.Contains("and 276 more universes", bounded, StringComparison.Ordinal);
        Assert.Contains("\nsACN 299: ", bounded, StringComparison.Ordinal);
        string whole = Print(survey, 120, all: true);
        Assert.DoesNotContain("--all", whole, StringComparison.Ordinal);
        Assert.Equal(300, whole.Split('\n').Count(line => line.StartsWith("sACN ", StringComparison.Ordinal) && line.Contains("senders", StringComparison.Ordinal)) - 1);
    }

    [Fact]
    public void Nothing_in_the_input_is_said_as_that()
    {
        SurveySnapshot empty = new() { Inputs = [], Universes = [], Nodes = [], Discovery = [], Findings = Array.Empty<Finding>() };
        Assert.StartsWith("There is nothing in this input", Print(empty, 80), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("several-art-net-senders", "several Art-Net senders")]
    [InlineData("art-sync-while-merging", "ArtSync while merging")]
    [InlineData("art-rdm-broadcast", "ArtRdm broadcast")]
    [InlineData("rdm-uid-twice", "RDM UID twice")]
    [InlineData("sacn-name-not-utf8", "sACN name not UTF-8")]
    [InlineData("address-conflict", "address conflict")]
    public void Names_in_a_cause_are_written_as_everywhere(string id, string name) => Assert.Equal(name, FindingText.Plain(id));

    [Fact]
    public void What_is_cured_by_the_same_stands_together_with_what_to_do_once()
    {
        SurveySnapshot survey = FullSurvey.With();
        Finding one = survey.Findings[0] with { Severity = Severity.Warning, Subject = "", Text = "One.", Action = "Pull the plug.", Cautions = ["People clear."] };
        Finding other = one with { Text = "Other.", Action = "Look." };
        string text = Print(survey with { Findings = [survey.Findings[0], one, other, one with { Text = "Three." }] }, 120);
        int[] places = [.. new[] { "warning  One.", "warning  Three.", "Do, for these 2: Pull the plug.", "Mind: People clear.", "warning  Other.", "Do: Look." }
            .Select(part => text.IndexOf(part, StringComparison.Ordinal))];
        Assert.DoesNotContain(-1, places);
        Assert.Equal(places.Order(), places);
    }

    [Fact]
    public void A_capture_of_RDM_alone_is_not_said_to_hold_no_universes()
    {
        SurveySnapshot survey = FullSurvey.With() with { Universes = [], Lines = [], Nodes = [], Discovery = [], Pollers = [], ArtSyncSenders = [], SyncPackets = [] };
        string text = Print(survey, 120);
        Assert.DoesNotContain("0 universes", text, StringComparison.Ordinal);
        Assert.Contains(": no levels, but RDM of 1 device.", text, StringComparison.Ordinal);
    }

    private static string Print(SurveySnapshot survey, int width, bool all = false)
    {
        TextPage page = new(width, color: false);
        SurveyText.Write(page, survey, TimeZoneInfo.Utc, all);
        return Text(page);
    }

    private static string Text(TextPage page)
    {
        using StringWriter text = new();
        page.WriteTo(text);
        return text.ToString();
    }
}
