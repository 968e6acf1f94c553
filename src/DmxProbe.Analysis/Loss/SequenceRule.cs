namespace DmxProbe.Analysis.Loss;

/// <summary>
/// The step between two sequence numbers. For sACN the bands are those of the receivers' discard rule: discard when
/// -20 &lt; d &lt;= 0 with d in signed 8 bit (E1.31-2018 section 6.7.2). Art-Net counts 1 to 255 and wraps past 0, which
/// means "not counted"; it states no discard rule, so the same bands are used for it (our choice).
/// </summary>
public static class SequenceRule
{
    private const int RestartAt = -20;
    private const int ArtNetNumbers = 255;

    /// <summary>Signed step from one sACN sequence number to the next, -128 to 127.</summary>
    public static int SacnStep(byte previous, byte next) => unchecked((sbyte)(byte)(next - previous));

    /// <summary>Signed step from one Art-Net sequence number (1 to 255) to the next, -127 to 127.</summary>
    public static int ArtNetStep(byte previous, byte next)
    {
        int step = next - previous;
        return step > ArtNetNumbers / 2 ? step - ArtNetNumbers
            : step < -(ArtNetNumbers / 2) ? step + ArtNetNumbers
            : step;
    }

    /// <summary>What a step means.</summary>
    public static SequenceStep Classify(int step) => step switch
    {
        1 => SequenceStep.Next,
        > 1 => SequenceStep.Gap,
        0 => SequenceStep.Repeat,
        > RestartAt => SequenceStep.OutOfOrder,
        _ => SequenceStep.Restart,
    };
}
