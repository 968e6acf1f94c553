namespace DmxProbe.Protocols.Line;

/// <summary>Level of a line channel as recorded; which of the two is mark is for the decoder to find.</summary>
public enum LineLevel : byte
{
    /// <summary>Low.</summary>
    Low,

    /// <summary>High.</summary>
    High,

    /// <summary>Not known: x or z in the recording, or nothing recorded yet.</summary>
    Unknown,
}
