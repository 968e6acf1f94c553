namespace DmxProbe.Analysis.Locate;

/// <summary>
/// Counts the moves of a light: a move goes one way by at least a threshold, and ends with a rest or a turn. A fade is
/// one move however long it takes; a flash is two.
/// </summary>
public static class LightMoves
{
    /// <summary>What counts as a move, of full.</summary>
    public const double Threshold = 0.02;

    private const int Rest = 10;

    /// <summary>Counts the moves.</summary>
    /// <param name="values">One value for each sample of 1/30 s.</param>
    /// <param name="threshold">Smallest move, in the values' units.</param>
    public static int Count(ReadOnlySpan<double> values, double threshold)
    {
        if (values.Length == 0)
        {
            return 0;
        }

        int moves = 0;
        double from = values[0];   // where the present move may have begun
        double peak = values[0];   // how far it has come
        int direction = 0;
        int still = 0;
        foreach (double value in values)
        {
            bool further = direction >= 0 && value > peak + (threshold / 4) || direction <= 0 && value < peak - (threshold / 4);
            if (direction == 0)
            {
                if (Math.Abs(value - from) >= threshold)
                {
                    direction = Math.Sign(value - from);
                    peak = value;
                    moves++;
                    still = 0;
                }

                continue;
            }

            if (further)
            {
                peak = value;
                still = 0;
            }
            else if (Math.Abs(value - peak) >= threshold)
            {
                // A turn.
                direction = -direction;
                peak = value;
                moves++;
                still = 0;
            }
            else if (++still >= Rest)
            {
                direction = 0;
                from = value;
            }
        }

        return moves;
    }
}
