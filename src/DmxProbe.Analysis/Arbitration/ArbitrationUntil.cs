using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Arbitration;

/// <summary>Who decides the slots of some universes at one time: frames after it are left out.</summary>
/// <param name="follow">Which universes are asked about.</param>
public sealed class ArbitrationUntil(Func<UniverseId, bool> follow) : IAnalyzer
{
    private readonly ArbitrationAnalyzer _arbitration = new() { Follow = follow };
    private Timestamp? _until;

    /// <summary>Asked at the first frame or event: what comes after this time is left out; null for nothing.</summary>
    public Func<Timestamp?>? Until { get; init; }

    /// <inheritdoc/>
    public void OnFrame(in DmxFrame frame)
    {
        if (frame.Time <= Last() && follow(frame.Universe))
        {
            _arbitration.OnFrame(in frame);
        }
    }

    /// <inheritdoc/>
    public void OnEvent(in LinkEvent linkEvent)
    {
        if (linkEvent.Time <= Last())
        {
            _arbitration.OnEvent(in linkEvent);
        }
    }

    /// <inheritdoc/>
    public void OnTime(Timestamp now)
    {
        Timestamp last = Last();
        _arbitration.OnTime(now < last ? now : last);
    }

    /// <summary>Who decides a range of slots, why, and who moved them last.</summary>
    /// <param name="streams">The universes met.</param>
    /// <param name="universe">The universe.</param>
    /// <param name="fromSlot">First slot, 1 to 512.</param>
    /// <param name="toSlot">Last slot, to 512.</param>
    /// <returns>An answer a slot; empty where no levels of the universe came.</returns>
    public IReadOnlyList<SlotAnswer> Ask(StreamTable streams, UniverseId universe, int fromSlot, int toSlot)
    {
        ArgumentNullException.ThrowIfNull(streams);
        for (int index = 0; index < streams.UniverseCount; index++)
        {
            if (streams.Universe(index) == universe)
            {
                return _arbitration.Ask(index, fromSlot, toSlot);
            }
        }

        return [];
    }

    private Timestamp Last() => _until ??= Until?.Invoke() ?? Timestamp.MaxValue;
}
