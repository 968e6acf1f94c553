using System.Text.Json;

using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Json;

namespace DmxProbe.Reporting.Tables;

/// <summary>A table as JSON: an object with the name of the table and its rows as objects, written as it comes.</summary>
public sealed class JsonTableWriter : TableWriter
{
    private const int MostHeld = 64 * 1024;
    private readonly Utf8JsonWriter _json;
    private readonly bool _ownsPage;
    private bool _isRowOpen;

    /// <summary>Begins a page that holds one table.</summary>
    /// <param name="spec">The table.</param>
    /// <param name="output">Where to; left open.</param>
    public JsonTableWriter(TableSpec spec, Stream output)
        : this(spec, JsonPage.Begin(output, "export")) => _ownsPage = true;

    /// <summary>Begins a table within a page.</summary>
    /// <param name="spec">The table.</param>
    /// <param name="json">The page, within an object.</param>
    internal JsonTableWriter(TableSpec spec, Utf8JsonWriter json)
        : base(spec)
    {
        _json = json;
        _json.WriteStartArray(Spec.Name);
    }

    /// <inheritdoc/>
    public override void Finish()
    {
        _json.WriteEndArray();
        if (_ownsPage)
        {
            _json.WriteEndObject();
        }

        _json.Flush();
    }

    /// <inheritdoc/>
    protected override void SetText(int column, string value) => Open().TextOrNull(Spec.Columns[column].Name, value);

    /// <inheritdoc/>
    protected override void SetWhole(int column, long? value)
    {
        if (value is long whole)
        {
            Open().WriteNumber(Spec.Columns[column].Name, whole);
        }
        else
        {
            Open().WriteNull(Spec.Columns[column].Name);
        }
    }

    /// <inheritdoc/>
    protected override void SetFigure(int column, double? value)
    {
        if (value is double figure)
        {
            Open().WriteNumber(Spec.Columns[column].Name, figure);
        }
        else
        {
            Open().WriteNull(Spec.Columns[column].Name);
        }
    }

    /// <inheritdoc/>
    protected override void SetTime(int column, Timestamp? value) => Open().TextOrNull(Spec.Columns[column].Name, value?.ToString() ?? "");

    /// <inheritdoc/>
    protected override void SetOctets(int column, ReadOnlySpan<byte> value) => Open().WriteString(Spec.Columns[column].Name, Convert.ToHexString(value));

    /// <inheritdoc/>
    protected override void WriteRow()
    {
        Open().WriteEndObject();
        _isRowOpen = false;
        if (_json.BytesPending > MostHeld)
        {
            _json.Flush();
        }
    }

    private Utf8JsonWriter Open()
    {
        if (!_isRowOpen)
        {
            _json.WriteStartObject();
            _isRowOpen = true;
        }

        return _json;
    }
}
