using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Json;

namespace DmxProbe.Reporting.Archive;

/// <summary>The table <c>findings</c>: what the survey of a recording found, a row each.</summary>
public static class FindingsTable
{
    /// <summary>Writes the findings of a recording; no file where there is none.</summary>
    /// <param name="show">What the recording is of.</param>
    /// <param name="survey">Its survey.</param>
    /// <param name="create">Makes the file.</param>
    public static void Write(ArchiveShow show, SurveySnapshot survey, Func<ArchivePlace, Stream> create)
    {
        ArgumentNullException.ThrowIfNull(survey);
        ArgumentNullException.ThrowIfNull(create);
        if (survey.First is not Timestamp first || survey.Findings.Count == 0)
        {
            return;
        }

        using ParquetTable table = new(
            create(ArchivePlace.Of("findings", show, first)),
            LevelsTable.Text("recording"),
            LevelsTable.Text("show_name"),
            LevelsTable.Text("venue"),
            LevelsTable.Text("severity"),
            LevelsTable.Text("id"),
            LevelsTable.Text("subject"),
            LevelsTable.Text("text"),
            LevelsTable.Time("from_us"),
            LevelsTable.Time("to_us"));
        int rows = survey.Findings.Count;
        table.Write(columns =>
        {
            columns.Texts(ParquetColumns.Same(show.Recording, rows));
            columns.Texts(ParquetColumns.Same(show.Show, rows));
            columns.Texts(ParquetColumns.Same(show.Venue, rows));
            columns.Texts([.. survey.Findings.Select(finding => JsonWords.Of(finding.Severity))]);
            columns.Texts([.. survey.Findings.Select(finding => finding.Id)]);
            columns.Texts([.. survey.Findings.Select(finding => finding.Subject)]);
            columns.Texts([.. survey.Findings.Select(finding => finding.Text)]);
            columns.Times([.. survey.Findings.Select(finding => Known(finding.From, first))]);
            columns.Times([.. survey.Findings.Select(finding => Known(finding.To, survey.Last ?? first))]);
        });
        table.Close();
    }

    private static long Known(Timestamp time, Timestamp otherwise) => (time == default ? otherwise : time).UnixNanoseconds;
}
