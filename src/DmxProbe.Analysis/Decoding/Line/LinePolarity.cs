namespace DmxProbe.Analysis.Decoding.Line;

/// <summary>Which recorded level is mark.</summary>
public enum LinePolarity
{
    /// <summary>High is mark, as on data +.</summary>
    MarkHigh,

    /// <summary>Low is mark: data -, or a reversed pair.</summary>
    MarkLow,
}
