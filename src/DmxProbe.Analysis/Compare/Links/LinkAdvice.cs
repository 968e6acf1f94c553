namespace DmxProbe.Analysis.Compare.Links;

/// <summary>What to do next about what was found on a link.</summary>
internal static class LinkAdvice
{
    /// <summary>The advice, one sentence without a full stop; empty where nothing is wrong.</summary>
    public static string For(LinkComparison link) => link switch
    {
        { Near: null } => "make sure that both taps listened at the same time to the same show while levels changed, and that the first is before the link",
        { IsOrderInDoubt: true } => "name the inputs the other way round if the second is the tap before the link, then compare again; if the order is right, their clocks differ: compare with --clocks two-clocks",
        { Detours.Count: > 0 } => "find who else can be heard at the receiver: a second transmitter, or a second sender on its universe; before it is linked anew: people clear, work light on, nothing moving",
        { FreezeCount: > 0 } when link.Freezes.Count(freeze => freeze.IsSilent) * 2 > link.Freezes.Count => "it sent nothing meanwhile: look at supply and cable of the receiver first, then at the link",
        { FreezeCount: > 0 } => "if it is a radio link: free sight between the aerials, another channel, less distance, then compare again; if not, look at the load of the gateway and the network before it",
        { DifferingSlotCount: > 0 } => "see whether these slots are merged from another sender, limited, or patched otherwise in the device behind; timing A B names its merge rule",
        _ when link.ChangesPassed * 2 < link.Changes => "make sure that both taps listened at the same time; if they did, the link leaves changes out: timing A B names its rate and merge rule",
        _ => "",
    };
}
