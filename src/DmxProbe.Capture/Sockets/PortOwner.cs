using System.Diagnostics;
using System.Globalization;

namespace DmxProbe.Capture.Sockets;

/// <summary>Which program has a UDP port, as far as the system lets us see.</summary>
internal static class PortOwner
{
    private const int PortAt = 1;
    private const int InodeAt = 9;

    /// <summary>The program in brackets for a sentence, or how to find it.</summary>
    public static string Of(int port)
    {
        if (!OperatingSystem.IsLinux())
        {
            return OperatingSystem.IsWindows() ? $" (find it with 'netstat -abn -p UDP')" : $" (find it with 'lsof -iUDP:{port}')";
        }

        try
        {
            HashSet<string> sockets = [.. Inodes("/proc/net/udp", port), .. Inodes("/proc/net/udp6", port)];
            foreach (Process process in Process.GetProcesses())
            {
                using (process)
                {
                    if (Has(process.Id, sockets))
                    {
                        return $" ({process.ProcessName}, process {process.Id})";
                    }
                }
            }
        }
        catch (Exception unseen) when (unseen is IOException or UnauthorizedAccessException or InvalidOperationException)
        {
            // Then it is looked for by hand.
        }

        return $" (find it with 'ss -lunp sport = :{port}')";
    }

    // A row of /proc/net/udp: "sl local_address rem_address st ...", the address as hex ADDRESS:PORT, the socket's inode 10th.
    private static IEnumerable<string> Inodes(string table, int port)
    {
        string wanted = ":" + port.ToString("X4", CultureInfo.InvariantCulture);
        return File.ReadLines(table)
            .Select(row => row.Split(' ', StringSplitOptions.RemoveEmptyEntries))
            .Where(cells => cells.Length > InodeAt && cells[PortAt].EndsWith(wanted, StringComparison.Ordinal))
            .Select(cells => $"socket:[{cells[InodeAt]}]");
    }

    private static bool Has(int process, HashSet<string> sockets)
    {
        try
        {
            return Directory.EnumerateFiles($"/proc/{process}/fd").Any(file => sockets.Contains(new FileInfo(file).LinkTarget ?? ""));
        }
        catch (Exception unseen) when (unseen is IOException or UnauthorizedAccessException)
        {
            return false;
        }
    }
}
