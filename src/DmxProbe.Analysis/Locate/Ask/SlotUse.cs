namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>What the sheet says a slot is, as far as raising it goes.</summary>
public enum SlotUse
{
    /// <summary>No unit of the sheet has it: unknown until somebody says that nothing else is on the universe.</summary>
    Unpatched,

    /// <summary>Intensity or colour of every unit that has it.</summary>
    Light,

    /// <summary>Movement, shutter, programme, speed, beam, control: never raised.</summary>
    Closed,

    /// <summary>A machine, or a slot that nobody understands: never raised, nor anything on its page of faders.</summary>
    Hazard,
}
