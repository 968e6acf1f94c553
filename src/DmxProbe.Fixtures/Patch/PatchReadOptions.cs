namespace DmxProbe.Fixtures.Patch;

/// <summary>What a person says about a sheet that does not say it itself. All may be left out.</summary>
public sealed record PatchReadOptions
{
    /// <summary>By what it holds, the letter or the heading of a column.</summary>
    public IReadOnlyDictionary<PatchColumn, string> Columns { get; init; } = new Dictionary<PatchColumn, string>();

    /// <summary>The number of the sheet's first universe, 0 or 1; null to find it.</summary>
    public int? UniverseBase { get; init; }

    /// <summary>The worksheet to read; null for the only one that is a patch.</summary>
    public string? Worksheet { get; init; }

    /// <summary>Whether <c>1-16</c> is a range of slots (true) or universe 1, address 16 (false); null to find it.</summary>
    public bool? DashIsRange { get; init; }
}
