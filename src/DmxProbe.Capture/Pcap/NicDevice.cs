using DmxProbe.Capture.Live;
using DmxProbe.Protocols.Records;
using SharpPcap;
using SharpPcap.LibPcap;

namespace DmxProbe.Capture.Pcap;

/// <summary>Opens network interfaces through libpcap, promiscuous, nanoseconds, UDP only.</summary>
internal static class NicDevice
{
    /// <summary>How long libpcap waits for a packet before it says that there is none.</summary>
    public const int ReadMilliseconds = 20;

    private const int BufferLength = 64 * 1024 * 1024;
    private const string Filter = "udp or (vlan and udp)";

    /// <summary>Opens an interface.</summary>
    /// <param name="input">The input as the person gave it.</param>
    /// <param name="name">The interface.</param>
    /// <param name="settings">How to listen.</param>
    /// <param name="index">The system's number for it.</param>
    /// <exception cref="InputException">The library, the interface or the privilege is missing.</exception>
    public static LibPcapLiveDevice Open(string input, string name, LiveSettings settings, out int index)
    {
        if (!PcapLibrary.IsPresent)
        {
            throw LiveInput.Refused(
                input,
                "listening on a network interface needs libpcap, which is not on this computer",
                "",
                "",
                OperatingSystem.IsWindows() ? "install a libpcap for Windows, or listen with net" : "install it (on Debian: apt install libpcap0.8), or listen with net");
        }

        IReadOnlyList<InterfaceInfo> all = settings.ReadInterfaces();
        if (all.FirstOrDefault(each => each.Name == name) is not InterfaceInfo about)
        {
            throw LiveInput.Refused(input, "there is no such interface", "one of " + string.Join(", ", all.Select(each => each.Name)), $"'{name}'", "");
        }

        index = about.Index;
        try
        {
            return OpenDevice(name) ?? throw NoPrivilege(input, settings);
        }
        catch (PcapException refused)
        {
            bool denied = refused.Error == PcapError.PermissionDenied || refused.Message.Contains("permission", StringComparison.OrdinalIgnoreCase);
            throw denied
                ? NoPrivilege(input, settings)
                : LiveInput.Refused(input, "the interface could not be opened", "", refused.Message, "listen with net instead");
        }
        catch (DllNotFoundException)
        {
            throw LiveInput.Refused(input, "libpcap could not be loaded", "", "", "install it again, or listen with net");
        }
    }

    /// <summary>Opens an interface that was open before; null while that cannot be done.</summary>
    public static LibPcapLiveDevice? TryOpen(string name)
    {
        try
        {
            return OpenDevice(name);
        }
        catch (PcapException)
        {
            return null;
        }
    }

    // Null where the system shows no such device: it asks for a privilege.
    private static LibPcapLiveDevice? OpenDevice(string name)
    {
        LibPcapLiveDevice? device = LibPcapLiveDeviceList.New().FirstOrDefault(each => each.Name == name);
        try
        {
            device?.Open(new DeviceConfiguration
            {
                Mode = DeviceModes.Promiscuous,
                ReadTimeout = ReadMilliseconds,
                Snaplen = LiveInterface.SnapLength,
                BufferSize = BufferLength,
                TimestampResolution = TimestampResolution.Nanosecond,
            });
            device?.Filter = Filter;
            return device;
        }
        catch (PcapException)
        {
            device?.Dispose();
            throw;
        }
    }

    private static InputException NoPrivilege(string input, LiveSettings settings) => LiveInput.Refused(
        input,
        "listening on a network interface needs a privilege that this program was not given",
        "",
        "",
        OperatingSystem.IsLinux()
            ? $"give it once with 'sudo setcap cap_net_raw+ep {settings.ProgramPath}', or listen with net"
            : "run it as administrator, or listen with net");
}
