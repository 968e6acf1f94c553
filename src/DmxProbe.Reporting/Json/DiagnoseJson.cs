using System.Text.Json;
using DmxProbe.Analysis.Diagnosis;

namespace DmxProbe.Reporting.Json;

/// <summary>A diagnosis as JSON.</summary>
public static class DiagnoseJson
{
    /// <summary>Writes a diagnosis.</summary>
    /// <param name="output">Where to, as UTF-8; left open.</param>
    /// <param name="it">The case.</param>
    /// <param name="result">The diagnosis.</param>
    public static void Write(Stream output, DiagnosisCase it, DiagnosisResult result) =>
        JsonPage.Write(output, "diagnose", json => Body(json, it, result));

    /// <summary>Writes the fields of a diagnosis into an object that is open.</summary>
    internal static void Body(Utf8JsonWriter json, DiagnosisCase it, DiagnosisResult result)
    {
        json.TextOrNull("safety", result.Safety);
        json.Text("sentence", result.Sentence);
        json.Texts("inputs", Words(result.Inputs));
        json.Map(it.Wire);
        json.Texts("bad", it.Bad);
        json.TextOrNull("said", it.Said);
        json.Objects("firstFork", result.Forks, (writer, fork) =>
        {
            writer.Text("unit", fork.Unit);
            writer.WriteString("fork", Camel(fork.Fork.ToString()));
            writer.Text("text", fork.Text);
        });
        json.Objects("shared", result.Groups, (writer, group) =>
        {
            writer.WriteString("kind", Camel(group.Kind.ToString()));
            writer.Text("text", group.Text);
            writer.Figure("gain", group.Gain);
            writer.Texts("units", group.Units);
            Check(writer, "check", group.Check);
            writer.Time("at", group.At);
            writer.Objects("then", group.Then, (each, moment) =>
            {
                each.Time("time", moment.Time);
                each.Text("text", moment.Text);
            });
        });
        if (result.Symptom is { } symptom)
        {
            json.WriteStartObject("symptom");
            json.WriteString("id", symptom.Id);
            json.Text("firstTest", symptom.FirstTest);
            json.WriteEndObject();
        }
        else
        {
            json.WriteNull("symptom");
        }

        json.Objects("causes", result.Ranked, Cause);
        json.Objects("excluded", result.Excluded, (writer, report) =>
        {
            Name(writer, report);
            writer.Text("text", report.Text);
        });
        json.Objects("cannotTell", result.CannotTell, (writer, report) =>
        {
            Name(writer, report);
            writer.Text("text", report.Text);
            writer.Texts("missing", Words(report.Missing));
        });
        json.Objects("questions", result.Questions, (writer, question) =>
        {
            Check(writer, "check", question.Check);
            writer.Texts("causes", question.Causes);
            writer.WriteBoolean("fitsSaid", question.FitsWhatWasSaid);
        });
        Check(json, "next", result.Next);
        json.Texts("cautions", result.Cautions);
    }

    private static void Cause(Utf8JsonWriter json, CauseReport report)
    {
        Name(json, report);
        json.WriteString("state", Camel(report.State.ToString()));
        json.WriteString("severity", JsonWords.Of(report.Severity));
        json.Text("subject", report.Subject);
        json.Text("text", report.Text);
        json.TextOrNull("followsFrom", report.FollowsFrom);
        json.TextOrNull("reasonOf", report.ReasonOf);
        if (report.TouchesBad is bool touches)
        {
            json.WriteBoolean("touchesBad", touches);
        }
        else
        {
            json.WriteNull("touchesBad");
        }

        json.Figure("score", report.Score);
        json.Texts("units", report.Units);
        json.Text("universe", report.Universe?.Label);
        json.Objects("evidence", report.Evidence, (writer, evidence) =>
        {
            writer.Text("text", evidence.Text);
            writer.TextOrNull("measured", evidence.Measured);
            writer.TextOrNull("limit", evidence.Limit);
            writer.TextOrNull("limitSource", evidence.LimitSource);
            writer.Time("from", evidence.From);
            writer.Time("to", evidence.To);
            if (evidence.FirstRecord > 0)
            {
                writer.WriteNumber("firstRecord", evidence.FirstRecord);
            }
            else
            {
                writer.WriteNull("firstRecord");
            }
        });
        json.Text("action", report.WhatToDo);
        Check(json, "check", report.WhatToCheck);
        json.Texts("cautions", report.WhatToMind);
    }

    private static void Name(Utf8JsonWriter json, CauseReport report)
    {
        json.WriteString("id", report.Cause.Id);
        json.WriteString("group", Camel(report.Cause.Card.Group.ToString()));
        json.Text("name", report.Cause.Name);
    }

    private static void Check(Utf8JsonWriter json, string name, NextCheck? check)
    {
        if (check is null)
        {
            json.WriteNull(name);
            return;
        }

        json.WriteStartObject(name);
        json.Text("text", check.Text);
        json.WriteNumber("seconds", check.Seconds);
        json.WriteBoolean("ladder", check.Ladder);
        json.WriteEndObject();
    }

    private static IEnumerable<string> Words(CauseInputs inputs) =>
        Enum.GetValues<CauseInputs>().Where(input => input != CauseInputs.None && inputs.HasFlag(input)).Select(input => Camel(input.ToString()));

    private static string Camel(string word) => JsonNamingPolicy.CamelCase.ConvertName(word);
}
