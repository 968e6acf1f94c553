using DmxProbe.Protocols.Records;

namespace DmxProbe.Capture.Serial;

/// <summary>Why a serial port could not be opened, each as one sentence.</summary>
internal static class SerialRefusal
{
    /// <summary>No port of that name.</summary>
    public static InputException Absent(string input, string path) => Refuse(
        input, $"there is no serial port {path}", "", "is it plugged in? dmxprobe inputs lists the ports");

    /// <summary>Not ours to open.</summary>
    public static InputException NotAllowed(string input, string path) => Refuse(
        input,
        $"the serial port {path} may not be opened, or another program has it",
        "",
        OperatingSystem.IsLinux() ? "close the other program, or join the group that owns the port (often dialout)" : "close the other program");

    /// <summary>Another program listens to it.</summary>
    public static InputException InUse(string input, string path) => Refuse(
        input, $"another program has the serial port {path}", "", "close it: two programs would each get a part of the octets");

    /// <summary>Something that is no serial port.</summary>
    public static InputException NoPort(string input, string path) => Refuse(
        input, $"{path} is no serial port", "", "dmxprobe inputs lists the ports");

    /// <summary>The rate of DMX512 is beyond it.</summary>
    public static InputException WrongRate(string input, long found) => Refuse(
        input,
        "this port cannot run at the rate of DMX512: expected 250,000 bit/s",
        string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{found:N0} bit/s"),
        "use an adapter that can");

    /// <summary>The system's own words.</summary>
    public static InputException Failed(string input, string message) =>
        Refuse(input, "the serial port could not be opened", message, "");

    private static InputException Refuse(string input, string what, string found, string advice) =>
        new(input, new InputProblem(what, "", "", found, advice));
}
