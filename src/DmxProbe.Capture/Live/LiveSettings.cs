namespace DmxProbe.Capture.Live;

/// <summary>How live sources are to listen.</summary>
public sealed record LiveSettings
{
    /// <summary>Octets asked of the kernel for each socket: holds a frame of 1,000 universes.</summary>
    public const int UsualReceiveBuffer = 8 * 1024 * 1024;

    /// <summary>The clock; the program hands down the system's.</summary>
    public required TimeProvider Clock { get; init; }

    /// <summary>Takes notices; called on whatever thread the source runs, never at once from two.</summary>
    public Action<LiveNotice> Tell { get; init; } = _ => { };

    /// <summary>sACN universes to join besides the discovery universe: the sheet's, or those asked for.</summary>
    public IReadOnlyList<int> Universes { get; init; } = [];

    /// <summary>Also join universes that sources list in discovery packets.</summary>
    public bool JoinHeard { get; init; }

    /// <summary>Also join through wireless interfaces: the access point then spends its air on the groups.</summary>
    public bool JoinOnWireless { get; init; }

    /// <summary>
    /// Answer ArtPoll as a monitor that outputs nothing, so that controllers which send only to devices they know send to this
    /// computer as well. Never set without a person's word that no audience is in.
    /// </summary>
    public bool Announce { get; init; }

    /// <summary>Octets to ask of the kernel for each socket.</summary>
    public int ReceiveBuffer { get; init; } = UsualReceiveBuffer;

    /// <summary>Take the sockets of .NET also where the kernel's own calls could be used. For tests.</summary>
    public bool Portable { get; init; }

    /// <summary>How to call this program in advice: its own file, never the host that runs it.</summary>
    public string ProgramPath { get; init; } = "dmxprobe";

    /// <summary>The interfaces of this computer.</summary>
    public Func<IReadOnlyList<InterfaceInfo>> ReadInterfaces { get; init; } = InterfaceList.Read;
}
