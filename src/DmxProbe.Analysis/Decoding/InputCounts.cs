using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Decoding;

/// <summary>What the decoder counted on one interface.</summary>
public struct InputCounts
{
    /// <summary>Time of the first record; meaningful where <see cref="Records"/> is not 0.</summary>
    public Timestamp First { get; set; }

    /// <summary>Time of the last record.</summary>
    public Timestamp Last { get; set; }

    /// <summary>Records of every kind.</summary>
    public long Records { get; set; }

    /// <summary>Lighting packets that contradict their own layout.</summary>
    public long Malformed { get; set; }

    /// <summary>Packets that the snap length cut before their fields could be read, or whose slots it cut.</summary>
    public long CutBySnapLength { get; set; }

    /// <summary>Fragments to or from a lighting port.</summary>
    public long Fragments { get; set; }

    /// <summary>Records that the capture says it lost.</summary>
    public long LostByCapture { get; set; }

    /// <summary>Records that are neither Art-Net nor sACN.</summary>
    public long OtherTraffic { get; set; }
}
