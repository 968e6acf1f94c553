namespace DmxProbe.Reporting.Tables;

/// <summary>What the cells of a column hold.</summary>
public enum ColumnKind
{
    /// <summary>Text; untrusted where it comes from packets or files. Empty = none.</summary>
    Text,

    /// <summary>A whole number of 64 bit, or none.</summary>
    Whole,

    /// <summary>A number, or none.</summary>
    Figure,

    /// <summary>A moment, or none.</summary>
    Time,

    /// <summary>Octets: hexadecimal in text forms.</summary>
    Octets,
}
