namespace DmxProbe.Fixtures.Patch.Recognition;

/// <summary>How a sheet writes a universe.</summary>
internal enum UniverseSpelling
{
    /// <summary>A number of the sheet's own.</summary>
    Number,

    /// <summary>A letter; A is the first.</summary>
    Letter,

    /// <summary>Net:Sub-Net:Universe of Art-Net, which counts from 0.</summary>
    NetSubUniverse,
}
