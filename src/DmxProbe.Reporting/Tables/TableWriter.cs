using DmxProbe.Protocols.Records;

namespace DmxProbe.Reporting.Tables;

/// <summary>
/// Takes a table cell by cell, in the order of its columns, and writes it in one form. Memory does not grow with the
/// number of rows.
/// </summary>
public abstract class TableWriter : IDisposable
{
    private int _next;

    /// <summary>Begins a table.</summary>
    /// <param name="spec">The table.</param>
    protected TableWriter(TableSpec spec)
    {
        ArgumentNullException.ThrowIfNull(spec);
        Spec = spec;
    }

    /// <summary>The table.</summary>
    public TableSpec Spec { get; }

    /// <summary>Rows ended so far.</summary>
    public long Rows { get; private set; }

    /// <summary>Sets the next cell to a text; null counts as none.</summary>
    /// <exception cref="InvalidOperationException">The next column holds something else.</exception>
    public void Text(string? value) => SetText(Next(ColumnKind.Text), value ?? "");

    /// <summary>Sets the next cell to a whole number.</summary>
    /// <exception cref="InvalidOperationException">The next column holds something else.</exception>
    public void Whole(long? value) => SetWhole(Next(ColumnKind.Whole), value);

    /// <summary>Sets the next cell to a number; what is not finite counts as none.</summary>
    /// <exception cref="InvalidOperationException">The next column holds something else.</exception>
    public void Figure(double? value) =>
        SetFigure(Next(ColumnKind.Figure), value is double figure && double.IsFinite(figure) ? figure : null);

    /// <summary>Sets the next cell to a moment.</summary>
    /// <exception cref="InvalidOperationException">The next column holds something else.</exception>
    public void Time(Timestamp? value) => SetTime(Next(ColumnKind.Time), value);

    /// <summary>Sets the next cell to octets.</summary>
    /// <exception cref="InvalidOperationException">The next column holds something else.</exception>
    public void Octets(ReadOnlySpan<byte> value) => SetOctets(Next(ColumnKind.Octets), value);

    /// <summary>Ends the row.</summary>
    /// <exception cref="InvalidOperationException">Not every cell was set.</exception>
    public void EndRow()
    {
        if (_next != Spec.Columns.Count)
        {
            throw new InvalidOperationException($"table {Spec.Name}: {_next} of {Spec.Columns.Count} cells are set");
        }

        _next = 0;
        Rows++;
        WriteRow();
    }

    /// <summary>Writes what is still held and the end of the table; the stream stays open.</summary>
    public abstract void Finish();

    /// <inheritdoc/>
    public void Dispose()
    {
        Dispose(true);
        GC.SuppressFinalize(this);
    }

    /// <summary>Lets go of what the form needs; nothing more is written.</summary>
    protected virtual void Dispose(bool disposing)
    {
    }

    /// <summary>Keeps a text.</summary>
    protected abstract void SetText(int column, string value);

    /// <summary>Keeps a whole number.</summary>
    protected abstract void SetWhole(int column, long? value);

    /// <summary>Keeps a number.</summary>
    protected abstract void SetFigure(int column, double? value);

    /// <summary>Keeps a moment.</summary>
    protected abstract void SetTime(int column, Timestamp? value);

    /// <summary>Keeps octets.</summary>
    protected abstract void SetOctets(int column, ReadOnlySpan<byte> value);

    /// <summary>Writes the row that is set.</summary>
    protected abstract void WriteRow();

    private int Next(ColumnKind kind)
    {
        if (_next >= Spec.Columns.Count || Spec.Columns[_next].Kind != kind)
        {
            throw new InvalidOperationException($"table {Spec.Name}: cell {_next + 1} is no {kind}");
        }

        return _next++;
    }
}
