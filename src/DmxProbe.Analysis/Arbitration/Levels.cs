using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Arbitration;

/// <summary>The levels that receivers put out, for both answers of a contest, and the last move of each.</summary>
internal sealed class Levels
{
    private const int Answers = 2;
    private short[][] _values = [new short[Claim.Slots], new short[Claim.Slots]];
    private Move[][] _moves = [new Move[Claim.Slots], new Move[Claim.Slots]];

    /// <summary>Nothing is known.</summary>
    public Levels()
    {
        for (int answer = 0; answer < Answers; answer++)
        {
            Array.Fill(_values[answer], (short)-1);
        }
    }

    /// <summary>The level of a slot, from 0; -1 where it is not known.</summary>
    public int Of(int answer, int slot) => _values[answer][slot];

    /// <summary>The last move of a slot, from 0.</summary>
    public SlotMove? MoveOf(int answer, int slot)
    {
        Move move = _moves[answer][slot];
        return move.IsSeen ? new SlotMove(move.Time, move.From, move.To, move.Cause, move.By) : null;
    }

    /// <summary>Takes levels as they are, without calling them moved.</summary>
    public void Begin(Outcome[][] outcomes)
    {
        for (int answer = 0; answer < Answers; answer++)
        {
            for (int slot = 0; slot < Claim.Slots; slot++)
            {
                _values[answer][slot] = (short)Math.Max(outcomes[answer][slot].Level(slot), -1);
            }
        }
    }

    /// <summary>Takes the levels that come of the outcomes, and notes which moved.</summary>
    public void Take(Outcome[][] outcomes, Timestamp at, ChangeCause cause, int by)
    {
        for (int answer = 0; answer < Answers; answer++)
        {
            short[] values = _values[answer];
            Outcome[] of = outcomes[answer];
            for (int slot = 0; slot < values.Length; slot++)
            {
                int level = of[slot].Level(slot);

                // Where nobody sends a slot any more a receiver holds it, or does what it is set to: it did not move here.
                if (level == values[slot] || level == -2)
                {
                    continue;
                }

                // The first level ever is no move: what was before it is not known.
                if (values[slot] >= 0 || _moves[answer][slot].IsSeen)
                {
                    _moves[answer][slot] = new Move { IsSeen = true, Time = at, From = values[slot], To = (short)level, Cause = cause, By = by };
                }

                values[slot] = (short)level;
            }
        }
    }

    /// <summary>A copy that shares nothing.</summary>
    public Levels Copy()
    {
        Levels copy = (Levels)MemberwiseClone();
        copy._values = [.. _values.Select(answer => answer.ToArray())];
        copy._moves = [.. _moves.Select(answer => answer.ToArray())];
        return copy;
    }

    private struct Move
    {
        public bool IsSeen;
        public Timestamp Time;
        public short From;
        public short To;
        public ChangeCause Cause;
        public int By;
    }
}
