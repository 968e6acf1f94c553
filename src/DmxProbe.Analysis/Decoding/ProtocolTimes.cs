using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Decoding;

/// <summary>Time-outs that decide whether a sender is still there, with their sources.</summary>
public static class ProtocolTimes
{
    /// <summary>sACN: a source is lost 2.5 s after its last packet for a universe (E1.31-2018 section 6.7.1 and Appendix A).</summary>
    public static Duration SacnLoss { get; } = Duration.FromMilliseconds(2500);

    /// <summary>
    /// Art-Net: a failed source is held 10 s in the merge buffer, then merging ends (Art-Net 4, 1.4dn, pages 76 and 77).
    /// The legal repeat of unchanged data is 4 s.
    /// </summary>
    public static Duration ArtNetMergeExit { get; } = Duration.FromSeconds(10);

    /// <summary>Art-Net: without ArtSync for 4 s a node acts on each ArtDmx again (Art-Net 4, 1.4dn, page 78).</summary>
    public static Duration ArtSyncLoss { get; } = Duration.FromSeconds(4);

    /// <summary>A line without a break for longer than this is a loss of signal (E1.11, 1.25 s; from secondary sources).</summary>
    public static Duration LineLoss { get; } = Duration.FromMilliseconds(1250);

    /// <summary>The time after which a sender of this protocol counts as gone.</summary>
    public static Duration LossOf(UniverseProtocol protocol) => protocol switch
    {
        UniverseProtocol.Sacn => SacnLoss,
        UniverseProtocol.ArtNet => ArtNetMergeExit,
        _ => LineLoss,
    };
}
