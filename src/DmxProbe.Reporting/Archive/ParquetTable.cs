using System.IO.Compression;

using Parquet;
using Parquet.Schema;

namespace DmxProbe.Reporting.Archive;

/// <summary>One Parquet file that is written row group by row group.</summary>
internal sealed class ParquetTable : IDisposable
{
    private const int PoolOctets = 1024 * 1024; // of hundreds of open files each
    private readonly Stream _stream;
    private readonly ParquetWriter _writer;
    private bool _isClosed;

    /// <summary>Begins a file.</summary>
    /// <param name="stream">Where to; belongs to this.</param>
    /// <param name="fields">The columns.</param>
    public ParquetTable(Stream stream, params Field[] fields)
    {
        _stream = stream;
        Schema = new ParquetSchema(fields);

        // Level 1 of Zstandard: higher ones take ten times as long for a tenth less (docs/decisions/0020).
        ParquetOptions options = new() { CompressionMethod = CompressionMethod.Zstd, CompressionLevel = CompressionLevel.Fastest, MaximumSmallPoolFreeBytes = PoolOctets, MaximumLargePoolFreeBytes = PoolOctets };
        foreach (DataField field in Schema.DataFields.Where(field => field.ClrType == typeof(int) || field.ClrType == typeof(long)))
        {
            options.ColumnEncodingHints[field.Path.ToString()] = EncodingHint.DeltaBinaryPacked;
        }

        _writer = Wait(ParquetWriter.CreateAsync(Schema, stream, options));
    }

    /// <summary>The columns.</summary>
    public ParquetSchema Schema { get; }

    /// <summary>Writes a row group.</summary>
    /// <param name="columns">Writes one column after the other.</param>
    public void Write(Action<ParquetColumns> columns)
    {
        using ParquetRowGroupWriter group = _writer.CreateRowGroup();
        columns(new ParquetColumns(group, Schema.DataFields));
        group.CompleteValidate();
    }

    /// <summary>Writes the end of the file.</summary>
    public void Close()
    {
        if (!_isClosed)
        {
            _isClosed = true;
            _writer.DisposeAsync().AsTask().GetAwaiter().GetResult();
            _stream.Flush();
        }
    }

    /// <summary>Closes the stream; without <see cref="Close"/> it is no whole file.</summary>
    public void Dispose() => _stream.Dispose();

    private static T Wait<T>(Task<T> task) => task.GetAwaiter().GetResult();
}
