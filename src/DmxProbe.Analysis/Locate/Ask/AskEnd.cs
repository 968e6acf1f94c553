namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>How a series of questions stands.</summary>
public enum AskEnd
{
    /// <summary>Still open.</summary>
    Open,

    /// <summary>A claim, and the confirming look agreed.</summary>
    Confirmed,

    /// <summary>A claim, but no look that confirms it is safe on this controller.</summary>
    NoConfirmingLook,

    /// <summary>The confirming look disagreed, three times.</summary>
    Contradicted,

    /// <summary>No safe question tells anything more.</summary>
    NothingLeft,

    /// <summary>The person could not tell, several times running.</summary>
    CannotTell,

    /// <summary>As many questions as anybody should answer.</summary>
    TooMany,
}
