using DmxProbe.Analysis.Survey;
using DmxProbe.Fixtures.Light;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Explain;

/// <summary>A unit as one sender drives it.</summary>
/// <param name="Sender">Who.</param>
/// <param name="InCharge">Whether a conforming receiver obeys it at that time (alone or together with others).</param>
/// <param name="Priority">Its sACN priority in charge; -1 where it is not in charge or has none.</param>
/// <param name="First">When it was first heard on the universe.</param>
/// <param name="Last">When it was last heard up to the time asked.</param>
/// <param name="State">What the unit should be doing.</param>
/// <param name="Light">The light expected; not predictable where <paramref name="State"/> says so.</param>
/// <param name="Reasons">Why, the strongest first.</param>
/// <param name="Slots">Slot by slot.</param>
public sealed record SenderView(
    SenderSummary Sender,
    bool InCharge,
    int Priority,
    Timestamp First,
    Timestamp Last,
    UnitState State,
    LightOutput Light,
    IReadOnlyList<Reason> Reasons,
    IReadOnlyList<SlotState> Slots);
