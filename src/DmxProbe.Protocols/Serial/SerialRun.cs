using DmxProbe.Protocols.Records;

namespace DmxProbe.Protocols.Serial;

/// <summary>
/// View of a <see cref="RecordKind.Serial"/> record: what one read of a serial port brought, at the time of the record.
/// Two octets for each character: its <see cref="SerialStatus"/>, then its value. A port that was unplugged and came
/// back is told by a <see cref="RecordKind.Loss"/> record; between the characters of two records nothing else is known.
/// </summary>
public readonly ref struct SerialRun
{
    private readonly ReadOnlySpan<byte> _data;

    private SerialRun(ReadOnlySpan<byte> data) => _data = data;

    /// <summary>Characters in it.</summary>
    public int Count => _data.Length / 2;

    /// <summary>Value of a character.</summary>
    /// <param name="index">From 0.</param>
    public byte this[int index] => _data[(2 * index) + 1];

    /// <summary>Looks at a record's bytes.</summary>
    /// <param name="data">The bytes.</param>
    /// <param name="run">The run, valid as long as the bytes.</param>
    /// <returns>False where the number of octets is odd.</returns>
    public static bool TryParse(ReadOnlySpan<byte> data, out SerialRun run)
    {
        run = new SerialRun(data);
        return data.Length % 2 == 0;
    }

    /// <summary>Line status of a character.</summary>
    /// <param name="index">From 0.</param>
    public SerialStatus Status(int index) => (SerialStatus)_data[2 * index];
}
