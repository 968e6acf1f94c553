using DmxProbe.Protocols.Records;

using Parquet;
using Parquet.Schema;

namespace DmxProbe.Reporting.Tables;

/// <summary>
/// A table as Parquet: groups of at most 65,536 rows or about 16 MiB. Times are whole microseconds since
/// 1970-01-01 00:00 UTC, cut, not rounded: for columns of type TIMESTAMP the library writes wrong bounds, and a reader that filters
/// by them finds nothing. The tables carry nanoseconds in a column of their own. Empty text is an empty text, a missing number is null.
/// </summary>
public sealed class ParquetTableWriter : TableWriter
{
    private const int MostRows = 65_536;
    private const long MostHeld = 16 * 1024 * 1024;
    private readonly DataField[] _fields;
    private readonly ParquetWriter _parquet;
    private readonly List<string>?[] _texts;
    private readonly List<long?>?[] _wholes;
    private readonly List<double?>?[] _figures;
    private readonly List<long?>?[] _times;
    private readonly List<byte[]>?[] _octets;
    private int _held;
    private long _heldOctets;

    /// <summary>Begins a table.</summary>
    /// <param name="spec">The table.</param>
    /// <param name="output">Where to; must be able to seek; left open.</param>
    public ParquetTableWriter(TableSpec spec, Stream output)
        : base(spec)
    {
        int count = Spec.Columns.Count;
        _texts = new List<string>?[count];
        _wholes = new List<long?>?[count];
        _figures = new List<double?>?[count];
        _times = new List<long?>?[count];
        _octets = new List<byte[]>?[count];
        _fields = [.. Spec.Columns.Select((column, place) => Field(column, place))];

        // The library is asynchronous only; over files and memory nothing is waited for.
        _parquet = ParquetWriter.CreateAsync(
            new ParquetSchema(_fields),
            output,
            new ParquetOptions { CompressionMethod = CompressionMethod.Zstd, CompressionLevel = System.IO.Compression.CompressionLevel.Fastest }).GetAwaiter().GetResult();
    }

    /// <inheritdoc/>
    public override void Finish()
    {
        if (_held > 0 || Rows == 0)
        {
            WriteGroup();
        }

        _parquet.DisposeAsync().AsTask().GetAwaiter().GetResult();
    }

    /// <inheritdoc/>
    protected override void SetText(int column, string value)
    {
        _texts[column]!.Add(value);
        _heldOctets += value.Length;
    }

    /// <inheritdoc/>
    protected override void SetWhole(int column, long? value) => _wholes[column]!.Add(value);

    /// <inheritdoc/>
    protected override void SetFigure(int column, double? value) => _figures[column]!.Add(value);

    /// <inheritdoc/>
    protected override void SetTime(int column, Timestamp? value) =>
        _times[column]!.Add(value is Timestamp time ? Microseconds(time.UnixNanoseconds) : null);

    /// <inheritdoc/>
    protected override void SetOctets(int column, ReadOnlySpan<byte> value)
    {
        _octets[column]!.Add(value.ToArray());
        _heldOctets += value.Length;
    }

    /// <inheritdoc/>
    protected override void WriteRow()
    {
        _held++;
        _heldOctets += sizeof(long) * (long)_fields.Length;
        if (_held >= MostRows || _heldOctets >= MostHeld)
        {
            WriteGroup();
        }
    }

    // Towards the past, also before 1970.
    private static long Microseconds(long nanoseconds)
    {
        const long NanosecondsPerMicrosecond = 1000;
        (long whole, long rest) = Math.DivRem(nanoseconds, NanosecondsPerMicrosecond);
        return rest < 0 ? whole - 1 : whole;
    }

    private DataField Field(TableColumn column, int place)
    {
        switch (column.Kind)
        {
            case ColumnKind.Text:
                _texts[place] = [];
                return new DataField(column.Name, typeof(string), isNullable: false);
            case ColumnKind.Whole:
                _wholes[place] = [];
                return new DataField(column.Name, typeof(long), isNullable: true);
            case ColumnKind.Figure:
                _figures[place] = [];
                return new DataField(column.Name, typeof(double), isNullable: true);
            case ColumnKind.Time:
                _times[place] = [];
                return new DataField(column.Name, typeof(long), isNullable: true);
            default:
                _octets[place] = [];
                return new DataField(column.Name, typeof(byte[]), isNullable: false);
        }
    }

    private void WriteGroup()
    {
        using (ParquetRowGroupWriter group = _parquet.CreateRowGroup())
        {
            for (int place = 0; place < _fields.Length; place++)
            {
                WriteColumn(group, place).GetAwaiter().GetResult();
            }

            group.CompleteValidate();
        }

        _held = 0;
        _heldOctets = 0;
    }

    private async Task WriteColumn(ParquetRowGroupWriter group, int place)
    {
        DataField field = _fields[place];
        if (_texts[place] is List<string> texts)
        {
            await group.WriteAsync(field, texts).ConfigureAwait(false);
            texts.Clear();
        }
        else if (_wholes[place] is List<long?> wholes)
        {
            await group.WriteAsync<long>(field, wholes.ToArray()).ConfigureAwait(false);
            wholes.Clear();
        }
        else if (_figures[place] is List<double?> figures)
        {
            await group.WriteAsync<double>(field, figures.ToArray()).ConfigureAwait(false);
            figures.Clear();
        }
        else if (_times[place] is List<long?> times)
        {
            await group.WriteAsync<long>(field, times.ToArray()).ConfigureAwait(false);
            times.Clear();
        }
        else if (_octets[place] is List<byte[]> octets)
        {
            await group.WriteAsync(field, octets).ConfigureAwait(false);
            octets.Clear();
        }
    }
}
