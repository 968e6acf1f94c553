using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Diagnosis.Units;

/// <summary>What one slot of one stream did.</summary>
public record struct SlotActivity
{
    /// <summary>Value now, 0 to 255.</summary>
    public byte Value { get; set; }

    /// <summary>Least value.</summary>
    public byte Least { get; set; }

    /// <summary>Greatest value.</summary>
    public byte Greatest { get; set; }

    /// <summary>How often it changed.</summary>
    public int Changes { get; set; }

    /// <summary>How often it jumped by more than 200: what the low byte of a slow ramp does.</summary>
    public int Jumps { get; set; }

    /// <summary>How often it went back to the value before last within two frames: what two senders in turn do.</summary>
    public int Returns { get; set; }

    /// <summary>The value before the last change.</summary>
    public byte Before { get; set; }

    /// <summary>When it changed last; meaningful where <see cref="Changes"/> is not 0.</summary>
    public Timestamp LastChange { get; set; }
}
