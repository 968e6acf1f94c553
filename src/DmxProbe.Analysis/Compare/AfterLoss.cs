namespace DmxProbe.Analysis.Compare;

/// <summary>What a line did after every sender of its universe was gone.</summary>
public enum AfterLoss
{
    /// <summary>Went on with the last levels as long as it was watched.</summary>
    Holds,

    /// <summary>Went to all slots 0.</summary>
    GoesDark,

    /// <summary>Stopped sending.</summary>
    StopsSending,

    /// <summary>Went to other levels: a stored look, or a sender that this tap does not see.</summary>
    GoesElsewhere,
}
