namespace DmxProbe.Analysis.Compare;

/// <summary>How a gateway makes one output of several senders. With one sender all of them give the same.</summary>
public enum MergeRule
{
    /// <summary>The senders of the highest priority; of several, the highest value of each slot.</summary>
    PriorityHighestValue,

    /// <summary>The senders of the highest priority; of several, whichever sent last.</summary>
    PriorityLatestPacket,

    /// <summary>Priority is ignored: the highest value of each slot.</summary>
    HighestValue,

    /// <summary>Priority is ignored: each slot follows the sender that changed it last.</summary>
    LatestChange,

    /// <summary>Priority is ignored: whichever sent last, whole packets.</summary>
    LatestPacket,

    /// <summary>The sender that was there first; others are ignored while it is there.</summary>
    FirstSender,
}
