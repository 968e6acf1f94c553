namespace DmxProbe.Analysis.Decoding;

/// <summary>How a universe was carried. The number of a universe means nothing without it.</summary>
public enum UniverseProtocol
{
    /// <summary>ANSI E1.31 streaming ACN; universes 1 to 63999.</summary>
    Sacn,

    /// <summary>Art-Net; Port-Addresses 0 to 32767.</summary>
    ArtNet,

    /// <summary>A recorded line; 0 = line A, 1 = line B.</summary>
    Line,

    /// <summary>A serial interface; 0 = port A.</summary>
    Serial,
}
