namespace DmxProbe.Analysis.Loss;

/// <summary>What the step from one sequence number to the next means.</summary>
public enum SequenceStep
{
    /// <summary>The next packet in order.</summary>
    Next,

    /// <summary>One or more packets are missing before it.</summary>
    Gap,

    /// <summary>The same number again.</summary>
    Repeat,

    /// <summary>A packet that a later one has overtaken: 1 to 19 back.</summary>
    OutOfOrder,

    /// <summary>20 or more back: the sender started its count anew.</summary>
    Restart,
}
