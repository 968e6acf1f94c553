using System.Globalization;
using System.Text;

using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Text;

using nietras.SeparatedValues;

namespace DmxProbe.Reporting.Tables;

/// <summary>
/// A table as CSV (RFC 4180: commas, CRLF, quotes doubled), UTF-8, headings first. Control characters in untrusted text are
/// written as <c>\u001B</c>, and text that a spreadsheet would take for a formula gets an apostrophe in front.
/// </summary>
public sealed class CsvTableWriter : TableWriter
{
    private const int BufferLength = 64 * 1024;
    private readonly StreamWriter _text;
    private readonly SepWriter _csv;
    private readonly string[] _cells;

    /// <summary>Begins a table and writes its headings.</summary>
    /// <param name="spec">The table.</param>
    /// <param name="output">Where to; left open.</param>
    public CsvTableWriter(TableSpec spec, Stream output)
        : base(spec)
    {
        _text = new StreamWriter(output, new UTF8Encoding(false), BufferLength, leaveOpen: true) { NewLine = "\r\n" };
        _csv = Sep.New(',').Writer(options => options with { Escape = true, CultureInfo = CultureInfo.InvariantCulture }).To(_text, leaveOpen: true);
        _cells = new string[Spec.Columns.Count];
        _csv.Header.Add([.. Spec.Columns.Select(column => column.Name)]);
        _csv.Header.Write();
    }

    /// <inheritdoc/>
    public override void Finish()
    {
        _csv.Dispose();
        _text.Dispose();
    }

    /// <inheritdoc/>
    protected override void SetText(int column, string value) => _cells[column] = Harmless(Printable.Text(value));

    /// <inheritdoc/>
    protected override void SetWhole(int column, long? value) => _cells[column] = value?.ToString(CultureInfo.InvariantCulture) ?? "";

    /// <inheritdoc/>
    protected override void SetFigure(int column, double? value) => _cells[column] = value?.ToString("R", CultureInfo.InvariantCulture) ?? "";

    /// <inheritdoc/>
    protected override void SetTime(int column, Timestamp? value) => _cells[column] = value?.ToString() ?? "";

    /// <inheritdoc/>
    protected override void SetOctets(int column, ReadOnlySpan<byte> value) => _cells[column] = Convert.ToHexString(value);

    /// <inheritdoc/>
    protected override void WriteRow()
    {
        using SepWriter.Row row = _csv.NewRow();
        for (int column = 0; column < _cells.Length; column++)
        {
            row[column].Set(_cells[column]);
        }
    }

    private static string Harmless(string text) => text.Length > 0 && text[0] is '=' or '+' or '-' or '@' ? "'" + text : text;
}
