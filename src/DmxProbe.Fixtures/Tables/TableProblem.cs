using System.Globalization;

namespace DmxProbe.Fixtures.Tables;

/// <summary>
/// Why a chart or a patch sheet is refused: one sentence for a person, its parts kept apart for tests and JSON. Text
/// from the file has its control characters escaped already.
/// </summary>
/// <param name="What">What is wrong, starting with a lower-case word.</param>
/// <param name="Line">Line of the file, from 1; 0 when it is about the whole file.</param>
/// <param name="Column">Name of the column; empty when it is about a whole line.</param>
/// <param name="Expected">What was expected there; empty when it says nothing more.</param>
/// <param name="Found">What was found there; empty when it says nothing more.</param>
/// <param name="Advice">What to do about it.</param>
public sealed record TableProblem(string What, int Line, string Column, string Expected, string Found, string Advice)
{
    /// <summary>The sentence, without the name of the file: what, where, expected, found, what to do.</summary>
    public override string ToString()
    {
        string text = What;
        if (Line > 0)
        {
            text += string.Create(CultureInfo.InvariantCulture, $", line {Line}");
        }

        if (Column.Length > 0)
        {
            text += ", column " + Column;
        }

        if (Expected.Length > 0)
        {
            text += ": expected " + Expected;
        }

        if (Found.Length > 0)
        {
            text += (Expected.Length > 0 ? ", found " : ": found ") + Found;
        }

        return Advice.Length > 0 ? text + "; " + Advice : text;
    }
}
