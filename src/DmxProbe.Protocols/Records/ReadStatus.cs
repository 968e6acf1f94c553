namespace DmxProbe.Protocols.Records;

/// <summary>What <see cref="ICaptureSource.Read"/> came back with.</summary>
public enum ReadStatus
{
    /// <summary>A record was read.</summary>
    Record,

    /// <summary>Nothing came up to the time in the record; time-outs can be judged up to then. Live sources only.</summary>
    Idle,

    /// <summary>There is no more. <see cref="ICaptureSource.Problem"/> tells whether the capture ended as it should.</summary>
    End,
}
