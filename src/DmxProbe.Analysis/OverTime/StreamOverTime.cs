using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;

namespace DmxProbe.Analysis.OverTime;

/// <summary>What one sender did on one universe, span by span.</summary>
/// <param name="Universe">The universe.</param>
/// <param name="Sender">The sender.</param>
/// <param name="Frames">Frames of every START code in each span.</param>
/// <param name="ChangedSlots">Changes of levels in each span, summed over the slots.</param>
/// <param name="Lost">Frames that the sequence numbers miss in each span; a frame out of order takes one back.</param>
public sealed record StreamOverTime(
    UniverseId Universe,
    SenderSummary Sender,
    IReadOnlyList<long> Frames,
    IReadOnlyList<long> ChangedSlots,
    IReadOnlyList<long> Lost);
