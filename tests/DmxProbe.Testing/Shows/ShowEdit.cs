namespace DmxProbe.Testing.Shows;

/// <summary>Something that is other in a night than in the show.</summary>
/// <param name="Universe">Whose.</param>
public sealed record ShowEdit(int Universe)
{
    /// <summary>Overwrites slots: number of the cue that stands, seconds of the night, the slots as the show has them.</summary>
    public ShowLevels? Levels { get; init; }

    /// <summary>True to send nothing of the universe.</summary>
    public bool IsSilent { get; init; }

    /// <summary>Rate instead of the show's, Hz; 0 = the show's.</summary>
    public double RateHz { get; init; }

    /// <summary>Slots sent; 0 = 512.</summary>
    public int SlotCount { get; init; }

    /// <summary>Share of packets that do not arrive.</summary>
    public double Loss { get; init; }

    /// <summary>sACN priority; 0 = 100.</summary>
    public int Priority { get; init; }

    /// <summary>Adds a second sender with these slots at 1 Hz, priority 50.</summary>
    public byte[]? SecondSender { get; init; }
}
