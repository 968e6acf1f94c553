using System.Text.Json;

using DmxProbe.Analysis.Locate;

namespace DmxProbe.Reporting.Json;

/// <summary>The answer of locate as JSON.</summary>
public static class LocateJson
{
    /// <summary>Writes the answer.</summary>
    /// <param name="output">Where to, as UTF-8; left open.</param>
    /// <param name="result">What the inference found.</param>
    /// <param name="about">What it is about.</param>
    /// <param name="answer">The answer in words.</param>
    public static void Write(Stream output, LocateResult result, LocateCase about, LocateAnswer answer) =>
        JsonPage.Write(output, "locate", json => Body(json, result, about, answer));

    /// <summary>Writes the fields of an answer into an object that is open.</summary>
    internal static void Body(Utf8JsonWriter json, LocateResult result, LocateCase about, LocateAnswer answer)
    {
        json.Text("unit", about.Unit.Unit);
        json.WriteString("claim", JsonWords.Of(result.Claim));
        json.Text("sentence", answer.Sentence);
        Candidate(json, "best", result.Best, about, result.Confidence);
        Candidate(json, "runnerUp", result.RunnerUp, about, null);
        json.Objects("classMembers", result.ClassMembers, (writer, each) => Fields(writer, each, about, null));
        json.Objects("candidates", result.Candidates, (writer, each) => Fields(writer, each, about, null));
        json.TextOrNull("explanation", answer.Explanation);
        json.TextOrNull("action", answer.Action);
        json.Text("nextStep", answer.NextStep);
        json.Texts("cautions", answer.Cautions);
        json.Texts("evidence", answer.Evidence);
        json.Figure("clockShiftSeconds", result.ClockShiftSeconds);
        json.Objects("contributions", result.Contributions, (writer, each) =>
        {
            writer.WriteString("evidence", each.Evidence);
            writer.Text("text", each.Text);
            writer.Time("time", each.Time);
            writer.Figure("nats", each.Nats);
            Candidate(writer, "against", each.Against, about, null);
        });
    }

    internal static void Candidate(Utf8JsonWriter json, string name, LocateCandidate? candidate, LocateCase about, double? score)
    {
        if (candidate is null)
        {
            json.WriteNull(name);
            return;
        }

        json.WriteStartObject(name);
        Fields(json, candidate, about, score);
        json.WriteEndObject();
    }

    private static void Fields(Utf8JsonWriter json, LocateCandidate candidate, LocateCase about, double? score)
    {
        int sheet = about.SheetUniverses[candidate.Hypothesis.History];
        json.Universe(candidate.Universe);
        if (sheet >= 0)
        {
            json.WriteNumber("sheetUniverse", sheet);
        }
        else
        {
            json.WriteNull("sheetUniverse");
        }

        json.WriteNumber("address", candidate.Hypothesis.Address);
        json.Text("mode", candidate.Mode);
        json.Figure("score", score ?? candidate.Score);
    }
}
