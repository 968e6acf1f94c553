namespace DmxProbe.Analysis.Decoding;

/// <summary>State by a dense index (stream, sender, universe): an array that grows when an index first appears.</summary>
/// <typeparam name="T">The state; its default must mean "nothing seen yet".</typeparam>
internal sealed class PerIndex<T>
    where T : struct
{
    private T[] _items = new T[16];

    /// <summary>One more than the highest index used.</summary>
    public int Count { get; private set; }

    /// <summary>The state of an index, made when it first appears.</summary>
    public ref T this[int index]
    {
        get
        {
            if (index >= Count)
            {
                Grow(index);
            }

            return ref _items[index];
        }
    }

    private void Grow(int index)
    {
        if (index >= _items.Length)
        {
            Array.Resize(ref _items, Math.Max(index + 1, _items.Length * 2));
        }

        Count = index + 1;
    }
}
