using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Text;

namespace DmxProbe.Benchmarks;

/// <summary>
/// The yardstick: libpcap reads a file and a callback counts, nothing else. pcap_loop calls straight into an unmanaged
/// function pointer; nothing is marshalled per packet.
/// </summary>
internal static unsafe partial class PcapLoop
{
    private const string Library = "libpcap.so.0.8";
    private const int ErrorBuffer = 256;

    /// <summary>Counts the packets of a file.</summary>
    public static long Count(string path)
    {
        byte* error = stackalloc byte[ErrorBuffer];
        byte[] name = Encoding.UTF8.GetBytes(path + "\0");
        nint handle;
        fixed (byte* file = name)
        {
            handle = Open(file, error);
        }

        if (handle == 0)
        {
            throw new InvalidOperationException("libpcap: " + Marshal.PtrToStringUTF8((nint)error));
        }

        long count = 0;
        _ = Loop(handle, -1, &OnPacket, (byte*)&count);
        Close(handle);
        return count;
    }

    [UnmanagedCallersOnly(CallConvs = [typeof(CallConvCdecl)])]
    private static void OnPacket(byte* user, byte* header, byte* data)
    {
        _ = header;
        _ = data;
        unchecked
        {
            ++*(long*)user;
        }
    }

    [LibraryImport(Library, EntryPoint = "pcap_open_offline")]
    private static partial nint Open(byte* file, byte* error);

    [LibraryImport(Library, EntryPoint = "pcap_loop")]
    private static partial int Loop(nint handle, int count, delegate* unmanaged[Cdecl]<byte*, byte*, byte*, void> callback, byte* user);

    [LibraryImport(Library, EntryPoint = "pcap_close")]
    private static partial void Close(nint handle);
}
