namespace DmxProbe.Analysis.Compare.Nights;

/// <summary>What to do about a difference between two nights: the next thing to look at, and where.</summary>
internal static class NightAdvice
{
    /// <summary>The advice for a kind, one sentence without a full stop.</summary>
    public static string For(NightDifferenceKind kind) => kind switch
    {
        NightDifferenceKind.UniverseMissing => "see whether the controller still puts this universe out and is on this network; a patch that was changed on purpose looks the same",
        NightDifferenceKind.SenderMissing => "see whether it is switched on and its network lead is in; if it is the backup, there is none tonight",
        NightDifferenceKind.SenderNew => "find out whose it is and whether it should be there; explain --slot says who is obeyed; before it is switched off: people clear, work light on, nothing moving",
        NightDifferenceKind.Priority => "if nobody meant it, set it back at the sender; explain --slot says who is obeyed now",
        NightDifferenceKind.UnitStill => "the wire does not move it, so the unit is not to blame: look in the controller (patch, a parked or inhibited channel, a group it fell out of)",
        NightDifferenceKind.CueMissing => "ask the operator whether it was skipped; review shows last night at that time",
        NightDifferenceKind.Levels => "look in the controller whether the cue was recorded over; review shows the slot of both nights at that time",
        NightDifferenceKind.UnitMovesNow => "see whether it was added to the show; if not, its address is patched twice in the controller",
        NightDifferenceKind.SlotCount => "units above the lower number get nothing that night; if nobody meant it, set the number back at the sender",
        NightDifferenceKind.Loss => "survey of tonight says where packets are lost: on one universe, from one sender, or all over",
        NightDifferenceKind.CueExtra => "ask the operator; if nobody made it, look who else can send to this universe",
        NightDifferenceKind.Rate => "see whether the rate was set by hand or the controller is short of time; timing says whether it keeps the limits",
        _ => "see whether it was added to the show on purpose",
    };
}
