namespace DmxProbe.Analysis.Decoding.Line;

/// <summary>Takes what <see cref="LinePackets"/> puts together.</summary>
internal interface ILinePacketHandler
{
    /// <summary>A packet ended.</summary>
    void OnPacket(in LinePacket packet);

    /// <summary>A character of a packet lacks its stop bit.</summary>
    /// <param name="at">Tick of its start bit.</param>
    /// <param name="slot">Its place; 0 = START code.</param>
    /// <param name="value">What was read.</param>
    void OnFramingError(long at, int slot, byte value);

    /// <summary>Characters came without a break: an answer to discovery, or something that should not be there.</summary>
    /// <param name="reply">What came.</param>
    void OnUnbroken(in LineUnbroken reply);

    /// <summary>A break was followed by no character.</summary>
    /// <param name="at">Tick of its start.</param>
    void OnEmptyBreak(long at);
}
