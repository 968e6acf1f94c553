namespace DmxProbe.Analysis.Decoding.Line;

/// <summary>What was made of a channel of a line recording.</summary>
public enum LineChannelUse
{
    /// <summary>It never changed its level: nothing connected, or nothing sent.</summary>
    Silent,

    /// <summary>It changes and is no DMX512, or too coarsely sampled to tell.</summary>
    NotDmx,

    /// <summary>Decoded as a line of its own.</summary>
    Decoded,

    /// <summary>The other leg of a pair that is decoded from its other channel.</summary>
    OtherLeg,

    /// <summary>The same signal as a channel that is decoded; decoded too.</summary>
    Copy,

    /// <summary>Left out because other channels were asked for.</summary>
    NotAsked,
}
