namespace DmxProbe.Analysis.Arbitration;

/// <summary>How the nodes of an Art-Net Port-Address merge two senders: a setting of the node.</summary>
public enum MergeMode
{
    /// <summary>No node told it.</summary>
    NotKnown,

    /// <summary>Highest takes precedence.</summary>
    HighestValue,

    /// <summary>Latest takes precedence.</summary>
    LatestValue,

    /// <summary>Nodes of the same Port-Address are set differently.</summary>
    Mixed,
}
