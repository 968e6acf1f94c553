namespace DmxProbe.Analysis.Arbitration;

/// <summary>Room for changes of who decides, shared by all universes.</summary>
/// <param name="most">How many; 100 octets each.</param>
internal sealed class ChangeRoom(int most)
{
    private int _left = most;

    /// <summary>Takes room for one change; false where none is left.</summary>
    public bool TryTake()
    {
        if (_left == 0)
        {
            return false;
        }

        _left--;
        return true;
    }
}
