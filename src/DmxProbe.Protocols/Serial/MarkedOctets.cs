namespace DmxProbe.Protocols.Serial;

/// <summary>
/// Turns the octets of a serial port that marks errors in the stream (PARMRK of POSIX termios) into characters with their line
/// status: FF 00 00 is a break, FF 00 x a character x with a framing error, FF FF the character FF. A character 0 with a framing
/// error looks like a break. Keeps what a read cut in two.
/// </summary>
public sealed class MarkedOctets
{
    private const byte Mark = 0xFF;
    private State _state;

    /// <summary>Takes the octets of one read.</summary>
    /// <param name="marked">The octets as read.</param>
    /// <param name="run">Room for two octets (status, value) for each octet read, and two more.</param>
    /// <param name="overrun">True where the port lost characters before this read.</param>
    /// <returns>Octets written to <paramref name="run"/>.</returns>
    public int Read(ReadOnlySpan<byte> marked, Span<byte> run, bool overrun = false)
    {
        int length = 0;
        foreach (byte octet in marked)
        {
            SerialStatus status;
            byte value = octet;
            switch (_state)
            {
                case State.Plain when octet == Mark:
                    _state = State.Marked;
                    continue;
                case State.Marked when octet == 0:
                    _state = State.Error;
                    continue;
                case State.Error:
                    status = octet == 0 ? SerialStatus.Break : SerialStatus.Error;
                    break;
                case State.Marked when octet != Mark:
                    // No such mark exists: a port that does not mark sent a plain FF. Both are taken as they are.
                    Put(run, ref length, SerialStatus.None, Mark, ref overrun);
                    status = SerialStatus.None;
                    break;
                default:
                    status = SerialStatus.None;
                    break;
            }

            _state = State.Plain;
            Put(run, ref length, status, value, ref overrun);
        }

        return length;
    }

    /// <summary>Forgets the half of a mark: the port was opened anew.</summary>
    public void Reset() => _state = State.Plain;

    private static void Put(Span<byte> run, ref int length, SerialStatus status, byte value, ref bool overrun)
    {
        run[length++] = (byte)(overrun ? status | SerialStatus.Overrun : status);
        run[length++] = value;
        overrun = false;
    }

    private enum State
    {
        Plain,
        Marked,
        Error,
    }
}
