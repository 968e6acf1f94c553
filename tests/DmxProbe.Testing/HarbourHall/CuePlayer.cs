using System.Globalization;

namespace DmxProbe.Testing.HarbourHall;

/// <summary>Plays cues: what each slot of each universe of the sheet holds at a moment. Integer arithmetic only.</summary>
public sealed class CuePlayer
{
    private const long Millisecond = 1_000_000;
    private readonly IReadOnlyList<RigUnit> _units;
    private readonly Dictionary<(RigUnit Unit, int Slot), List<Move>> _moves = [];

    /// <summary>Works out all moves.</summary>
    /// <param name="units">The rig.</param>
    /// <param name="preset">The look at time 0.</param>
    /// <param name="cues">The cues in order of time.</param>
    public CuePlayer(IReadOnlyList<RigUnit> units, Cue preset, IReadOnlyList<Cue> cues)
    {
        _units = units;
        foreach (Cue cue in cues.Prepend(preset))
        {
            foreach (string look in cue.Looks)
            {
                Add(cue, look);
            }
        }
    }

    /// <summary>Fills the slots of a universe of the sheet.</summary>
    /// <param name="universe">Universe of the sheet.</param>
    /// <param name="time">Nanoseconds from the start.</param>
    /// <param name="slots">Slot 1 first.</param>
    public void Fill(int universe, long time, Span<byte> slots)
    {
        slots.Clear();
        foreach (((RigUnit unit, int slot), List<Move> moves) in _moves)
        {
            if (unit.Universe != universe)
            {
                continue;
            }

            int value = ValueAt(moves, time);
            int at = unit.Address - 1 + slot;
            if (HasFine(unit, slot))
            {
                slots[at] = (byte)(value >> 8);
                slots[at + 1] = (byte)(value & 0xFF);
            }
            else
            {
                slots[at] = (byte)value;
            }
        }
    }

    private void Add(Cue cue, string look)
    {
        string[] parts = look.Split(": ");
        foreach (string name in parts[0].Split(' '))
        {
            RigUnit[] units = [.. _units.Where(u => u.Name == name || u.Name.StartsWith(name + "-", StringComparison.Ordinal))];
            foreach (RigUnit unit in units.Length > 0 ? units : throw new ArgumentException("no unit " + name))
            {
                foreach (string setting in parts[1].Split(", "))
                {
                    int space = setting.LastIndexOf(' ');
                    int slot = unit.Mode.IndexOf(setting[..space]);
                    int value = int.Parse(setting.AsSpan(space + 1), CultureInfo.InvariantCulture);
                    Add(unit, slot >= 0 ? slot : throw new ArgumentException("no function in " + setting), cue, value);
                }
            }
        }
    }

    private void Add(RigUnit unit, int slot, Cue cue, int value)
    {
        if (!_moves.TryGetValue((unit, slot), out List<Move>? moves))
        {
            _moves.Add((unit, slot), moves = []);
        }

        // The later look of one cue wins over an earlier one: "all to 40, this one to 255".
        long start = cue.At * Millisecond;
        moves.RemoveAll(m => m.Start == start);
        moves.Add(new Move(start, cue.Fade * Millisecond, ValueAt(moves, start), value));
    }

    private static int ValueAt(List<Move> moves, long time)
    {
        int last = moves.FindLastIndex(m => m.Start <= time);
        if (last < 0)
        {
            return 0;
        }

        Move move = moves[last];
        long elapsed = time - move.Start;
        return elapsed >= move.Fade
            ? move.To
            : move.From + (int)((move.To - move.From) * (elapsed / 1_000) / (move.Fade / 1_000));
    }

    private static bool HasFine(RigUnit unit, int slot) =>
        slot + 1 < unit.Mode.Slots.Length && unit.Mode.Slots[slot + 1].Function == unit.Mode.Slots[slot].Function + " fine";

    private readonly record struct Move(long Start, long Fade, int From, int To);
}
