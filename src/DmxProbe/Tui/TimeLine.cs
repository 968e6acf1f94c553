using DmxProbe.Protocols.Records;

namespace DmxProbe.Tui;

/// <summary>Where in a recording the person is, and how fast it plays. Changed on the screen's thread only.</summary>
/// <param name="first">Start of the recording.</param>
/// <param name="last">End of the recording.</param>
internal sealed class TimeLine(Timestamp first, Timestamp last)
{
    private const double Slowest = 0.25;
    private const double Fastest = 16;

    /// <summary>Start of the recording.</summary>
    public Timestamp First { get; } = first;

    /// <summary>End of the recording.</summary>
    public Timestamp Last { get; } = last;

    /// <summary>The moment shown.</summary>
    public Timestamp At { get; private set; } = first;

    /// <summary>Whether it plays.</summary>
    public bool Playing { get; set; }

    /// <summary>How many seconds of the recording pass in one.</summary>
    public double Speed { get; private set; } = 1;

    /// <summary>A point the person set; null for none.</summary>
    public Timestamp? A { get; set; }

    /// <summary>The other point; between both it plays round and round.</summary>
    public Timestamp? B { get; set; }

    /// <summary>Goes to a moment, or as near as the recording has it.</summary>
    public void Go(Timestamp moment) => At = moment < First ? First : moment > Last ? Last : moment;

    /// <summary>Twice as fast, or half.</summary>
    public void Faster(bool faster) => Speed = Math.Clamp(faster ? Speed * 2 : Speed / 2, Slowest, Fastest);

    /// <summary>Lets time pass while it plays.</summary>
    /// <param name="passed">Time passed at the person's side.</param>
    public void Pass(TimeSpan passed)
    {
        if (!Playing)
        {
            return;
        }

        Timestamp before = At;
        Go(At + Duration.FromSeconds(passed.TotalSeconds * Speed));
        if (A is Timestamp a && B is Timestamp b)
        {
            (Timestamp from, Timestamp to) = a < b ? (a, b) : (b, a);
            if (before <= to && At >= to && from < to)
            {
                Go(from);
            }
        }

        Playing = At < Last;
    }

    /// <summary>Which column of a line of so many a moment has.</summary>
    public int Column(Timestamp moment, int width)
    {
        double all = (Last - First).TotalSeconds;
        double share = all <= 0 ? 0 : (moment - First).TotalSeconds / all;
        return Math.Clamp((int)(share * (width - 1)), 0, Math.Max(0, width - 1));
    }

    /// <summary>The moment of a column of such a line.</summary>
    public Timestamp Moment(int column, int width) =>
        First + Duration.FromSeconds((Last - First).TotalSeconds * Math.Clamp(column, 0, width - 1) / Math.Max(1, width - 1));
}
