using DmxProbe.Analysis.Decoding;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Light;

namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>
/// Every place a light could be reading: universe x start address x open mode, and one more that stands for <b>none of
/// these</b>. All evidence speaks about this one space.
/// </summary>
public sealed class AskSpace
{
    private readonly LightModel[] _models;

    /// <summary>Makes the space.</summary>
    /// <param name="universes">The universes, each once, at least one.</param>
    /// <param name="modes">The open modes, at least one.</param>
    /// <param name="personalities">The RDM personality number of each mode, 0 where it is not known; null = none is.</param>
    public AskSpace(IReadOnlyList<UniverseId> universes, IReadOnlyList<ChartMode> modes, IReadOnlyList<int>? personalities = null)
    {
        ArgumentNullException.ThrowIfNull(universes);
        ArgumentNullException.ThrowIfNull(modes);
        if (universes.Count == 0 || modes.Count == 0)
        {
            throw new ArgumentException("a space needs a universe and a mode", nameof(universes));
        }

        Universes = universes;
        Modes = modes;
        Personalities = personalities ?? [.. modes.Select(_ => 0)];
        _models = [.. modes.Select(mode => new LightModel(mode))];
        Longest = Math.Max(1, modes.Max(mode => mode.Footprint));
    }

    /// <summary>The universes.</summary>
    public IReadOnlyList<UniverseId> Universes { get; }

    /// <summary>The open modes.</summary>
    public IReadOnlyList<ChartMode> Modes { get; }

    /// <summary>The RDM personality number of each mode; 0 = not known.</summary>
    public IReadOnlyList<int> Personalities { get; }

    /// <summary>How many places there are; also the index of "none of these".</summary>
    public int Count => Universes.Count * SlotHistory.SlotCount * Modes.Count;

    /// <summary>Slots of the longest mode.</summary>
    internal int Longest { get; }

    /// <summary>The index of a place, 0 to <see cref="Count"/> - 1.</summary>
    public int IndexOf(AskPlace place) => (((place.Universe * SlotHistory.SlotCount) + place.Address - 1) * Modes.Count) + place.Mode;

    /// <summary>The place of an index below <see cref="Count"/>.</summary>
    public AskPlace PlaceAt(int index)
    {
        int address = index / Modes.Count;
        return new AskPlace(address / SlotHistory.SlotCount, (address % SlotHistory.SlotCount) + 1, index % Modes.Count);
    }

    /// <summary>The light at a place while its universe stands at some levels.</summary>
    /// <param name="address">Start address.</param>
    /// <param name="mode">The mode.</param>
    /// <param name="levels">The 512 levels.</param>
    public LightOutput Light(int address, int mode, ReadOnlySpan<byte> levels)
    {
        int present = Math.Min(Modes[mode].Footprint, SlotHistory.SlotCount + 1 - address);
        return _models[mode].Predict(levels.Slice(address - 1, present));
    }
}
