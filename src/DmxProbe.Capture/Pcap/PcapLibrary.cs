using System.Runtime.InteropServices;

namespace DmxProbe.Capture.Pcap;

/// <summary>
/// The two calls that we make on libpcap ourselves: the wrapper reads the drop count as 0 on 64-bit Linux and makes an object
/// for every packet.
/// </summary>
internal static unsafe class PcapLibrary
{
    private static readonly string[] Names = ["libpcap.so.0.8", "libpcap.so.1", "libpcap.so", "libpcap.dylib", "wpcap"];
    private static readonly nint Library = Load();

    /// <summary>Whether the library is on this computer.</summary>
    public static bool IsPresent => Library != 0;

    /// <summary>pcap_next_ex: 1 a packet, 0 nothing in time, less an error.</summary>
    public static int Next(nint handle, out long stamped, out int originalLength, out ReadOnlySpan<byte> data)
    {
        byte* header;
        byte* bytes;
        int result = ((delegate* unmanaged[Cdecl]<nint, byte**, byte**, int>)NativeLibrary.GetExport(Library, "pcap_next_ex"))(
            handle, &header, &bytes);
        if (result != 1)
        {
            stamped = 0;
            originalLength = 0;
            data = default;
            return result;
        }

        // struct pcap_pkthdr: a struct timeval (of two C longs; the fraction in nanoseconds as asked), caplen, len.
        int half = OperatingSystem.IsWindows() ? sizeof(int) : sizeof(nint);
        long seconds = half == sizeof(int) ? *(int*)header : *(long*)header;
        long fraction = half == sizeof(int) ? *(int*)(header + half) : *(long*)(header + half);
        stamped = (seconds * 1_000_000_000) + fraction;
        originalLength = (int)Math.Min(int.MaxValue, *(uint*)(header + (2 * half) + 4));
        data = new ReadOnlySpan<byte>(bytes, (int)*(uint*)(header + (2 * half)));
        return result;
    }

    /// <summary>pcap_get_selectable_fd: what to wait on, or -1.</summary>
    public static int Descriptor(nint handle) =>
        ((delegate* unmanaged[Cdecl]<nint, int>)NativeLibrary.GetExport(Library, "pcap_get_selectable_fd"))(handle);

    /// <summary>pcap_stats: packets dropped since it was opened, by the kernel and by the interface; 0 where it does not say.</summary>
    public static long Dropped(nint handle)
    {
        // struct pcap_stat: received, dropped, dropped by the interface; room for what Windows adds.
        uint* figures = stackalloc uint[8];
        int result = ((delegate* unmanaged[Cdecl]<nint, uint*, int>)NativeLibrary.GetExport(Library, "pcap_stats"))(handle, figures);
        return result == 0 ? (long)figures[1] + figures[2] : 0;
    }

    private static nint Load()
    {
        foreach (string name in Names)
        {
            if (NativeLibrary.TryLoad(name, out nint library))
            {
                return library;
            }
        }

        return 0;
    }
}
