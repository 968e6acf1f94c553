using System.Globalization;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Protocols.CaptureFiles;

/// <summary>Builds the sentence for a capture file that cannot be read further. Only called once per file.</summary>
/// <param name="unpacked">True when offsets count octets of the unpacked content of a gzip file.</param>
internal sealed class CaptureDamage(bool unpacked)
{
    /// <summary>The input is too short for what starts here.</summary>
    public InputProblem Cut(ByteWindow window, string what, long expected, long recordsBefore)
    {
        if (window.Failure is not null)
        {
            return Unreadable(window, recordsBefore);
        }

        return new InputProblem(
            "the file ends inside " + what, Byte(window.Position), Octets(expected), Number(window.Available), Read(recordsBefore));
    }

    /// <summary>The stream failed, whatever was expected of it.</summary>
    public InputProblem Unreadable(ByteWindow window, long recordsBefore)
    {
        string where = Byte(window.Position + window.Available);
        return window.Failure switch
        {
            EndOfStreamException => new InputProblem(
                "the gzip file is cut short", where, "more packed data", "the end of the file", Read(recordsBefore)),
            InvalidDataException => new InputProblem(
                "the gzip file is damaged", where, "packed data with a right checksum", "data that cannot be unpacked", Read(recordsBefore)),
            Exception failure => new InputProblem(
                "the input could not be read further", where, "", failure.Message, Read(recordsBefore)),
            null => throw new InvalidOperationException("the stream did not fail"),
        };
    }

    /// <summary>A field holds what it cannot hold.</summary>
    public InputProblem Wrong(string what, long offset, string expected, string found, long recordsBefore) =>
        new(what, Byte(offset), expected, found, Read(recordsBefore));

    /// <summary>A number with thousands set apart.</summary>
    public static string Number(long number) => number.ToString("N0", CultureInfo.InvariantCulture);

    /// <summary>A number of octets.</summary>
    public static string Octets(long number) => Number(number) + (number == 1 ? " octet" : " octets");

    private string Byte(long offset) => "byte " + Number(offset) + (unpacked ? " of the unpacked data" : "");

    private static string Read(long recordsBefore) => recordsBefore switch
    {
        0 => "no record could be read before it",
        1 => "the 1 record before it was read",
        _ => "the " + Number(recordsBefore) + " records before it were read",
    };
}
