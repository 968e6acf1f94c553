namespace DmxProbe.Protocols.Rdm;

/// <summary>How a responder answers (ANSI E1.20, known from secondary sources).</summary>
public enum RdmResponseType : byte
{
    /// <summary>Done; the data are the answer.</summary>
    Ack = 0,

    /// <summary>Not yet: ask again after the time in the data, in steps of 100 ms.</summary>
    AckTimer = 1,

    /// <summary>Refused: the data hold the reason.</summary>
    NackReason = 2,

    /// <summary>A part of the answer: ask again for the next.</summary>
    AckOverflow = 3,
}
