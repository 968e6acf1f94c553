using System.IO.Ports;

namespace DmxProbe.Capture.Serial;

/// <summary>The serial ports of this computer. Looking opens none of them.</summary>
public static class SerialPortList
{
    /// <summary>Reads them as they are now, by name; empty where the system refuses.</summary>
    public static IReadOnlyList<SerialPortInfo> Read()
    {
        if (OperatingSystem.IsLinux())
        {
            return ReadLinux("/");
        }

        try
        {
            return [.. SerialPort.GetPortNames().Distinct().Order(StringComparer.Ordinal).Select(name => new SerialPortInfo(name, "", ""))];
        }
        catch (Exception refused) when (refused is IOException or UnauthorizedAccessException or PlatformNotSupportedException or System.Runtime.InteropServices.ExternalException)
        {
            return [];
        }
    }

    /// <summary>Reads the kernel's own list below a folder that stands for the root.</summary>
    internal static IReadOnlyList<SerialPortInfo> ReadLinux(string root)
    {
        try
        {
            DirectoryInfo ttys = new(Path.Combine(root, "sys/class/tty"));
            if (!ttys.Exists)
            {
                return [];
            }

            Dictionary<string, string> stable = StableNames(Path.Combine(root, "dev/serial/by-id"));
            return
            [
                .. ttys.EnumerateDirectories()
                    .Where(IsPort)
                    .OrderBy(tty => tty.Name, StringComparer.Ordinal)
                    .Select(tty => new SerialPortInfo(tty.Name, stable.GetValueOrDefault(tty.Name, ""), Product(tty.FullName))),
            ];
        }
        catch (Exception refused) when (refused is IOException or UnauthorizedAccessException)
        {
            return [];
        }
    }

    // Consoles have no device behind them; an 8250 port with nothing on it says type 0.
    private static bool IsPort(DirectoryInfo tty) =>
        Directory.Exists(Path.Combine(tty.FullName, "device")) && Text(Path.Combine(tty.FullName, "type")) != "0";

    private static Dictionary<string, string> StableNames(string folder)
    {
        Dictionary<string, string> names = new(StringComparer.Ordinal);
        if (Directory.Exists(folder))
        {
            foreach (FileInfo link in new DirectoryInfo(folder).EnumerateFiles())
            {
                if (link.LinkTarget is string target)
                {
                    names.TryAdd(Path.GetFileName(target), link.FullName);
                }
            }
        }

        return names;
    }

    // The USB device stands one to three folders above the port, by driver.
    private static string Product(string tty)
    {
        string device = Path.Combine(tty, "device");
        FileSystemInfo real = Directory.ResolveLinkTarget(device, returnFinalTarget: true) ?? new DirectoryInfo(device);
        string folder = real.FullName;
        for (int up = 0; up < 4 && folder.Length > 1; up++)
        {
            string product = Text(Path.Combine(folder, "product"));
            if (product.Length > 0)
            {
                return product;
            }

            folder = Path.GetDirectoryName(folder) ?? "";
        }

        return "";
    }

    private static string Text(string path)
    {
        try
        {
            return File.Exists(path) ? File.ReadAllText(path).Trim() : "";
        }
        catch (Exception refused) when (refused is IOException or UnauthorizedAccessException)
        {
            return "";
        }
    }
}
