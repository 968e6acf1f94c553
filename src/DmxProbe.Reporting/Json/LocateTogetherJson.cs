using System.Text.Json;

using DmxProbe.Analysis.Locate;
using DmxProbe.Analysis.Locate.Together;

namespace DmxProbe.Reporting.Json;

/// <summary>The answer of <c>locate --units</c> as JSON.</summary>
public static class LocateTogetherJson
{
    /// <summary>Writes the answer.</summary>
    /// <param name="output">Where to, as UTF-8; left open.</param>
    /// <param name="result">What was found.</param>
    /// <param name="cases">What each unit is about, in the order of the result.</param>
    /// <param name="answers">The answer for each unit in words.</param>
    /// <param name="statements">What they have in common, in words.</param>
    /// <param name="leftOut">Units whose light says nothing, a sentence each.</param>
    public static void Write(
        Stream output,
        TogetherResult result,
        IReadOnlyList<LocateCase> cases,
        IReadOnlyList<LocateAnswer> answers,
        IReadOnlyList<RowStatement> statements,
        IReadOnlyList<string> leftOut)
    {
        ArgumentNullException.ThrowIfNull(result);
        ArgumentNullException.ThrowIfNull(cases);
        ArgumentNullException.ThrowIfNull(answers);
        JsonPage.Write(output, "locate", json =>
        {
            json.Objects("row", statements, Statement);
            json.Objects("units", Enumerable.Range(0, result.Units.Count), (writer, i) => Unit(writer, result.Units[i], cases[i], answers[i]));
            json.Texts("leftOut", leftOut);
            json.WriteString("caution", RowNarrator.Caution);
            json.Figure("clockShiftSeconds", result.ClockShiftSeconds);
        });
    }

    private static void Statement(Utf8JsonWriter json, RowStatement statement)
    {
        json.WriteString("kind", JsonNamingPolicy.CamelCase.ConvertName(statement.Finding.Kind.ToString()));
        json.Text("sentence", statement.Sentence);
        json.Text("action", statement.Action);
        json.Texts("units", statement.Finding.Units);
        json.WriteNumber("slots", statement.Finding.Shift.Slots);
        json.Text("cause", statement.Finding.Culprit);
        json.Figure("score", statement.Finding.Confidence);
    }

    private static void Unit(Utf8JsonWriter json, RowUnit unit, LocateCase about, LocateAnswer answer)
    {
        json.Text("unit", about.Unit.Unit);
        json.WriteString("claim", JsonWords.Of(unit.Result.Claim));
        json.WriteString("claimAlone", JsonWords.Of(unit.Alone.Claim));
        json.Text("sentence", answer.Sentence);
        LocateJson.Candidate(json, "best", unit.Result.Best, about, unit.Result.Confidence);
        json.TextOrNull("explanation", answer.Explanation);
        json.TextOrNull("action", answer.Action);
        json.Text("nextStep", answer.NextStep);
    }
}
