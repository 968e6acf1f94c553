namespace DmxProbe.Testing.Line;

/// <summary>
/// A line over time as exact moments at which it changes, in nanoseconds; it begins in mark. What a recorder would see is
/// made of it by <see cref="LineRecording"/>.
/// </summary>
public sealed class LineSignal
{
    private readonly List<double> _edges = [];

    /// <summary>Moments of change, ascending; the first goes to space.</summary>
    public IReadOnlyList<double> Edges => _edges;

    /// <summary>Up to where it is made.</summary>
    public double Now { get; private set; }

    /// <summary>True while it is at mark.</summary>
    public bool IsMark => _edges.Count % 2 == 0;

    /// <summary>Holds a level for some time.</summary>
    public void Hold(bool mark, double nanoseconds)
    {
        if (nanoseconds <= 0)
        {
            return;
        }

        if (mark != IsMark)
        {
            _edges.Add(Now);
        }

        Now += nanoseconds;
    }

    /// <summary>Puts a short pulse of the other level into what was made last.</summary>
    /// <param name="before">How long before now it begins.</param>
    /// <param name="nanoseconds">Its width.</param>
    public void Glitch(double before, double nanoseconds)
    {
        double at = Now - before;
        if (_edges.Count > 0 && at <= _edges[^1])
        {
            return;
        }

        _edges.Add(at);
        _edges.Add(at + nanoseconds);
    }

    /// <summary>Two transmitters at once: the line is at space wherever one of them drives it there.</summary>
    public static LineSignal Together(LineSignal one, LineSignal other)
    {
        LineSignal both = new();
        int i = 0;
        int j = 0;
        bool isSpace = false;
        while (i < one._edges.Count || j < other._edges.Count)
        {
            bool first = j >= other._edges.Count || (i < one._edges.Count && one._edges[i] <= other._edges[j]);
            double at = first ? one._edges[i++] : other._edges[j++];
            bool now = i % 2 == 1 || j % 2 == 1;
            if (now != isSpace)
            {
                both._edges.Add(at);
                isSpace = now;
            }
        }

        both.Now = Math.Max(one.Now, other.Now);
        return both;
    }
}
