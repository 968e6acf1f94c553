namespace DmxProbe.Analysis.Diagnosis;

/// <summary>The first question about a unit: does the wire carry what the person thinks was sent?</summary>
public enum FirstFork
{
    /// <summary>Its slots are sent and move: look at the unit, its address, its mode, its cable.</summary>
    Carries,

    /// <summary>Its slots are sent and never move: look at the controller first.</summary>
    StandsStill,

    /// <summary>Some of its slots, or all, are not sent: look at the controller, the network, the routing.</summary>
    NotSent,

    /// <summary>Several senders decide it together and do not agree.</summary>
    Contested,

    /// <summary>These inputs do not say.</summary>
    CannotTell,
}
