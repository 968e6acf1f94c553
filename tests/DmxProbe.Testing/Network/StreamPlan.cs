namespace DmxProbe.Testing.Network;

/// <summary>When a universe is sent: the rules that sACN and Art-Net senders share. Times in ns since the start.</summary>
public record StreamPlan
{
    /// <summary>Most packets a second of a sender that follows E1.11's full universe: 44.</summary>
    public const long Tick44 = 22_727_273;

    /// <summary>What is played.</summary>
    public required LevelSource Levels { get; init; }

    /// <summary>Slots sent, 0 to 512.</summary>
    public int SlotCount { get; init; } = 512;

    /// <summary>First packet not before this.</summary>
    public long Start { get; init; }

    /// <summary>The end of the stream, or null to go on.</summary>
    public long? Stop { get; init; }

    /// <summary>True to send packets whether anything changed or not, at every tick.</summary>
    public bool ConstantRate { get; init; }

    /// <summary>Distance of the moments at which a change can be sent.</summary>
    public long Tick { get; init; } = 25_000_000;

    /// <summary>A tick comes up to this much late.</summary>
    public long TickJitter { get; init; } = 300_000;

    /// <summary>Packets with unchanged levels after a change, before suppression (E1.31-2018 section 6.6.2: three).</summary>
    public int Repeats { get; init; } = 3;

    /// <summary>Shortest time from the last packet to a keep-alive (E1.31-2018 section 6.6.2: 800 ms).</summary>
    public long KeepAliveFrom { get; init; } = 820_000_000;

    /// <summary>Longest time from the last packet to a keep-alive (E1.31-2018 section 6.6.2: 1000 ms).</summary>
    public long KeepAliveTo { get; init; } = 980_000_000;

    /// <summary>Packets of other START codes, sent in turn.</summary>
    public IReadOnlyList<AlternatePacket> Alternates { get; init; } = [];

    /// <summary>Distance of packets of other START codes.</summary>
    public long AlternateEvery { get; init; } = 1_000_000_000;

    /// <summary>Moments at which the sender falls silent and comes back with its sequence count started anew.</summary>
    public IReadOnlyList<SenderRestart> Restarts { get; init; } = [];

    /// <summary>True while the sender is restarting.</summary>
    internal bool IsSilent(long time) => Restarts.Any(r => time >= r.At && time < r.At + r.Silence);
}
