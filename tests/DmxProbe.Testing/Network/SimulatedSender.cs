using DmxProbe.Testing.Network.Packets;

namespace DmxProbe.Testing.Network;

/// <summary>A machine that sends by rules of its own; the same seed gives the same packets.</summary>
/// <param name="name">What the truth calls it; unique in a network.</param>
/// <param name="host">Its addresses.</param>
public abstract class SimulatedSender(string name, Host host)
{
    /// <summary>What the truth calls it.</summary>
    public string Name { get; } = name;

    /// <summary>Its addresses.</summary>
    public Host Host { get; } = host;

    /// <summary>Everything it sends of its own accord; need not be in order of time.</summary>
    /// <param name="random">Numbers for this sender alone.</param>
    /// <param name="until">End of the simulation in ns.</param>
    public abstract IEnumerable<SentPacket> Send(SeededRandom random, long until);

    /// <summary>What it sends in answer to what others sent.</summary>
    /// <param name="heard">All that others sent of their own accord, in order of time.</param>
    /// <param name="random">Numbers for this sender alone.</param>
    /// <param name="until">End of the simulation in ns.</param>
    public virtual IEnumerable<SentPacket> Answer(IReadOnlyList<SentPacket> heard, SeededRandom random, long until) => [];
}
