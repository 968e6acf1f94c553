namespace DmxProbe.Capture.Live;

/// <summary>What all live network interfaces have in common, so that a recording of several opens in any tool.</summary>
public static class LiveInterface
{
    /// <summary>The snap length that every live network interface states, in octets.</summary>
    public const int SnapLength = 262_144;
}
