using System.Text;
using System.Text.Json;

using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Timing;
using DmxProbe.Reporting.Json;
using DmxProbe.Testing.Surveys;

namespace DmxProbe.Reporting.Tests.Json;

public class SurveyJsonTests
{
    [Fact]
    public void Times_are_utc_with_nine_decimals_and_absent_ones_are_null()
    {
        JsonElement root = Written(FullSurvey.With());
        Assert.Equal(1, root.GetProperty("schema").GetInt32());
        Assert.Equal("2026-03-14T19:41:00.000000000Z", root.GetProperty("from").GetString());
        JsonElement warning = root.GetProperty("findings")[1];
        Assert.Equal("warning", warning.GetProperty("severity").GetString());
        Assert.Equal(JsonValueKind.Null, warning.GetProperty("from").ValueKind);
        Assert.Equal(JsonValueKind.Null, warning.GetProperty("firstRecord").ValueKind);
    }

    [Fact]
    public void Who_is_obeyed_names_places_in_the_universes_own_list_of_senders()
    {
        JsonElement universe = Written(FullSurvey.With()).GetProperty("universes")[0];
        JsonElement last = universe.GetProperty("obeyed")[1];
        int place = last.GetProperty("senders")[0].GetInt32();
        Assert.Equal("old laptop", universe.GetProperty("senders")[place].GetProperty("name").GetString());
        Assert.Equal(512, universe.GetProperty("slotCounts").EnumerateObject().Max(count => int.Parse(count.Name, null)));
    }

    [Fact]
    public void A_hostile_name_comes_back_from_the_parser_and_shows_no_control_on_the_way()
    {
        string hostile = "a\u001b[31m\u202e\u009b\u2028\"\\é";
        using MemoryStream page = new();
        SurveyJson.Write(page, FullSurvey.With(firstName: hostile));
        Assert.DoesNotContain(page.ToArray(), octet => octet is < 0x20 and not (byte)'\n' || octet >= 0x7F);
        Assert.Equal(hostile, NameOf(JsonDocument.Parse(page.ToArray()).RootElement));
    }

    [Fact]
    public void Half_a_surrogate_pair_becomes_the_replacement_character()
    {
        JsonElement root = Written(FullSurvey.With(firstName: "x" + (char)0xD83D));
        Assert.Equal("x\uFFFD", NameOf(root));
    }

    [Fact]
    public void A_figure_that_is_not_finite_is_null()
    {
        SurveySnapshot survey = FullSurvey.With();
        UniverseSummary universe = survey.Universes[0];
        StreamSummary stream = universe.Streams[0] with { RateHz = double.NaN, ChangedHz = double.PositiveInfinity };
        JsonElement sender = Written(survey with { Universes = [universe with { Streams = [stream] }] })
            .GetProperty("universes")[0].GetProperty("senders")[0];
        Assert.Equal(JsonValueKind.Null, sender.GetProperty("rateHz").ValueKind);
        Assert.Equal(JsonValueKind.Null, sender.GetProperty("changedHz").ValueKind);
    }

    [Fact]
    public void The_words_of_verdicts_are_those_of_the_documentation()
    {
        using MemoryStream page = new();
        TimingJson.Write(page, [new("a", FullSurvey.Timing)]);
        string[] verdicts =
        [
            .. JsonDocument.Parse(page.ToArray()).RootElement.GetProperty("timing").EnumerateArray()
                .Select(row => row.GetProperty("verdict").GetString()!),
        ];
        Assert.Equal(["outsideTransmit", "outsideReceive", "undecided", "inside", "notMeasurable"], verdicts);
        Assert.Equal(Enum.GetValues<LimitVerdict>().Length, verdicts.Length);
    }

    private static string? NameOf(JsonElement root) =>
        root.GetProperty("universes")[0].GetProperty("senders")[0].GetProperty("name").GetString();

    private static JsonElement Written(SurveySnapshot survey)
    {
        using MemoryStream page = new();
        SurveyJson.Write(page, survey);
        return JsonDocument.Parse(Encoding.UTF8.GetString(page.ToArray())).RootElement;
    }
}
