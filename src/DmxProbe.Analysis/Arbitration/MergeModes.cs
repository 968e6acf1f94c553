namespace DmxProbe.Analysis.Arbitration;

/// <summary>
/// How the outputs of Art-Net nodes are set to merge, by Port-Address: from ArtPollReply (GoodOutputA bit 1: LTP) and
/// ArtAddress (AcMergeLtp, AcMergeHtp; Art-Net 4, 1.4dn, pages 40 and 55). Bounded; outputs beyond are not known.
/// </summary>
internal sealed class MergeModes
{
    /// <summary>Most outputs kept.</summary>
    public const int Capacity = 16384;

    /// <summary>Ports of one part of a node.</summary>
    public const int PortsOfBind = 4;

    private const int BindIndexes = 256;

    private readonly Dictionary<Output, (int PortAddress, bool IsLatest)> _outputs = [];
    private readonly Dictionary<int, (int Highest, int Latest)> _counts = [];

    /// <summary>How the nodes of a Port-Address merge.</summary>
    public MergeMode Of(int portAddress) => _counts.GetValueOrDefault(portAddress) switch
    {
        (0, 0) => MergeMode.NotKnown,
        (_, 0) => MergeMode.HighestValue,
        (0, _) => MergeMode.LatestValue,
        _ => MergeMode.Mixed,
    };

    /// <summary>An output told how it is set.</summary>
    /// <returns>Whether the mode of its Port-Address may have changed.</returns>
    public bool Told(Output output, int portAddress, bool isLatest)
    {
        if (_outputs.TryGetValue(output, out (int PortAddress, bool IsLatest) known))
        {
            if (known == (portAddress, isLatest))
            {
                return false;
            }

            Count(known.PortAddress, known.IsLatest, -1);
        }
        else if (_outputs.Count >= Capacity)
        {
            return false;
        }

        _outputs[output] = (portAddress, isLatest);
        Count(portAddress, isLatest, 1);
        return true;
    }

    /// <summary>An output was told how to merge.</summary>
    /// <returns>Its Port-Address; -1 where the output is not known or was set so already.</returns>
    public int Set(Output output, bool isLatest) =>
        _outputs.TryGetValue(output, out (int PortAddress, bool IsLatest) known) && Told(output, known.PortAddress, isLatest) ? known.PortAddress : -1;

    /// <summary>The Port-Addresses of the outputs of a node.</summary>
    public IEnumerable<int> OutputsOf(uint node, int bindIndex) =>
        _outputs.Where(pair => pair.Key.Node == node && pair.Key.BindIndex == bindIndex).Select(pair => pair.Value.PortAddress).Distinct();

    private void Count(int portAddress, bool isLatest, int step)
    {
        (int highest, int latest) = _counts.GetValueOrDefault(portAddress);
        _counts[portAddress] = isLatest ? (highest, latest + step) : (highest + step, latest);
    }

    /// <summary>One output of a node.</summary>
    /// <param name="Node">IPv4 address of the node.</param>
    /// <param name="BindIndex">Which part of the node; 1 for the root.</param>
    /// <param name="Port">0 to 3.</param>
    internal readonly record struct Output(uint Node, int BindIndex, int Port)
    {
        /// <summary>Reads what an event carries: the node's address, its bind index and the port, in one number.</summary>
        public static Output Of(long packed) =>
            new((uint)(packed / (BindIndexes * PortsOfBind)), (int)(packed / PortsOfBind % BindIndexes), (int)(packed % PortsOfBind));
    }
}
