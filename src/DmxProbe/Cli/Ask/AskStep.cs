namespace DmxProbe.Cli.Ask;

/// <summary>What the guided questions wait for.</summary>
internal enum AskStep
{
    /// <summary>Whether an audience is in.</summary>
    Audience,

    /// <summary>What is at hand.</summary>
    Controller,

    /// <summary>What is seen.</summary>
    Question,

    /// <summary>Whether slots of a universe that are not on the sheet may be raised: a typed sentence.</summary>
    Clear,

    /// <summary>Nothing more.</summary>
    Ended,
}
