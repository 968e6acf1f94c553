namespace DmxProbe.Capture.Serial;

/// <summary>Names of serial ports as a person types them.</summary>
internal static class SerialPortName
{
    /// <summary>What the system opens: on systems with device files a bare name lies in /dev.</summary>
    public static string PathOf(string port) =>
        OperatingSystem.IsWindows() || port.Contains('/', StringComparison.Ordinal) ? port : "/dev/" + port;

    /// <summary>The short name: the last part of a path.</summary>
    public static string ShortOf(string port) =>
        OperatingSystem.IsWindows() ? port : Path.GetFileName(port) is { Length: > 0 } name ? name : port;
}
