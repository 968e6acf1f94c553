namespace DmxProbe.Fixtures.Tables;

/// <summary>One row of a <see cref="Grid"/>.</summary>
/// <param name="Line">Line of the file or row of the worksheet, from 1.</param>
/// <param name="Cells">Its cells, trimmed, from the first column on.</param>
internal sealed record GridRow(int Line, string[] Cells)
{
    /// <summary>Why a cell cannot be trusted, by column; null when all can: a formula without a value, a date.</summary>
    public Dictionary<int, string>? Doubts { get; init; }

    /// <summary>A cell; empty when the row is shorter.</summary>
    public string this[int column] => column >= 0 && column < Cells.Length ? Cells[column] : "";
}
