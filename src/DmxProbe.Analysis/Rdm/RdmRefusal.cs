namespace DmxProbe.Analysis.Rdm;

/// <summary>Refusals of one kind.</summary>
/// <param name="Parameter">What was asked for.</param>
/// <param name="IsSet">True where it was to be changed.</param>
/// <param name="Reason">Number of the reason (ANSI E1.20, known from secondary sources).</param>
/// <param name="Count">How often.</param>
public sealed record RdmRefusal(int Parameter, bool IsSet, int Reason, long Count)
{
    /// <summary>From the first to the last.</summary>
    public RdmSpan Seen { get; init; }

    /// <summary>The reason in words.</summary>
    public string Why => Reason switch
    {
        0 => "it does not know the parameter",
        1 => "the request had the wrong format",
        2 => "a hardware fault",
        3 => "a proxy refuses",
        4 => "it is locked against changes",
        5 => "it does not allow that with this parameter",
        6 => "the value is out of range",
        7 => "its buffer is full",
        8 => "the packet is too long for it",
        9 => "there is no such sub-device",
        10 => "the proxy's buffer is full",
        11 => "it does not do that",
        12 or 13 or 14 => "the endpoint or UID asked for does not serve",
        _ => "reason " + Reason.ToString("X4", System.Globalization.CultureInfo.InvariantCulture) + "h",
    };
}
