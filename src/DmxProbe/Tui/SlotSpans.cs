using DmxProbe.Fixtures.Patch;

namespace DmxProbe.Tui;

/// <summary>The slots of a universe from 1 on, as the units divide them: those of each unit, and those between.</summary>
/// <param name="units">The units by address, each with how many slots it takes.</param>
/// <param name="sent">Slots sent; units behind them are named all the same.</param>
internal struct SlotSpans(IReadOnlyList<(PatchUnit Unit, int Slots)> units, int sent)
{
    private const int MostSlots = 512;
    private int _index;
    private int _next = 1;
    private bool _ended;

    /// <summary>First slot.</summary>
    public int From { get; private set; }

    /// <summary>Last slot; before <see cref="From"/> where there is none.</summary>
    public int To { get; private set; }

    /// <summary>Whose slots they are; null for nobody's.</summary>
    public PatchUnit? Unit { get; private set; }

    /// <summary>The unit's place, from 1; 0 for none.</summary>
    public int Choice { get; private set; }

    /// <summary>Goes to the next.</summary>
    /// <returns>False where there is none.</returns>
    public bool MoveNext()
    {
        if (_index < units.Count)
        {
            (PatchUnit unit, int slots) = units[_index];
            if (unit.Address > _next)
            {
                (From, To, Unit, Choice) = (_next, unit.Address - 1, null, 0);
                _next = unit.Address;
                return true;
            }

            _index++;
            (From, To, Unit, Choice) = (unit.Address, Math.Min(MostSlots, unit.Address + slots - 1), unit, _index);
            _next = Math.Max(_next, unit.Address + slots);
            return true;
        }

        if (_ended)
        {
            return false;
        }

        _ended = true;
        (From, To, Unit, Choice) = (_next, sent, null, 0);
        return From <= To;
    }
}
