namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>Where a piece of evidence comes from.</summary>
public enum AskEvidenceKind
{
    /// <summary>The measured light.</summary>
    Trace,

    /// <summary>A look noted while the capture ran.</summary>
    Look,

    /// <summary>The tap key, all taps together.</summary>
    Taps,

    /// <summary>What the unit says it stores, as somebody noted it.</summary>
    Rdm,

    /// <summary>What RDM devices in the capture say of their own address.</summary>
    Device,

    /// <summary>The answer to a guided question.</summary>
    Answer,
}
