namespace DmxProbe.Analysis.Arbitration;

/// <summary>What a command in ArtAddress orders about merging (AcCancelMerge, AcMergeLtp0 to 3, AcMergeHtp0 to 3; Art-Net 4, 1.4dn, pages 50 and 55).</summary>
/// <param name="Kind">What is ordered.</param>
/// <param name="Output">Of which output; for a cancelled merge only the node and its part.</param>
internal readonly record struct MergeOrder(MergeOrderKind Kind, MergeModes.Output Output)
{
    private const int CancelMerge = 0x01;
    private const int MergeLatest = 0x10;
    private const int MergeHighest = 0x50;
    private const int CommandMask = 0xF0;

    /// <summary>Reads a command.</summary>
    /// <param name="command">The command, 0 to 255.</param>
    /// <param name="node">The node's address times 256, plus its bind index.</param>
    public static MergeOrder Of(int command, long node)
    {
        MergeModes.Output root = MergeModes.Output.Of(node * MergeModes.PortsOfBind);
        int port = command & ~CommandMask;
        return (command & CommandMask) switch
        {
            _ when command == CancelMerge => new MergeOrder(MergeOrderKind.Cancel, root),
            MergeLatest when port < MergeModes.PortsOfBind => new MergeOrder(MergeOrderKind.Latest, root with { Port = port }),
            MergeHighest when port < MergeModes.PortsOfBind => new MergeOrder(MergeOrderKind.Highest, root with { Port = port }),
            _ => new MergeOrder(MergeOrderKind.Other, root),
        };
    }
}
