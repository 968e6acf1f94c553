namespace DmxProbe.Capture.Sockets;

/// <summary>Another program has a port that is needed whole.</summary>
internal sealed class PortTakenException(ushort port) : Exception
{
    /// <summary>The port.</summary>
    public ushort Port => port;
}
