namespace DmxProbe.Tests.Browser;

/// <summary>How a page is looked at.</summary>
/// <param name="Width">Width of the window, CSS pixels.</param>
/// <param name="Scripts">Whether scripts run.</param>
/// <param name="Dark">Whether the person prefers dark pages.</param>
public sealed record PageLook(int Width, bool Scripts = true, bool Dark = false)
{
    /// <summary>A desk.</summary>
    public const int Desk = 1100;

    /// <summary>A phone.</summary>
    public const int Phone = 390;
}
