using DmxProbe.Testing.Files;

namespace DmxProbe.Testing.CaptureFiles;

/// <summary>The committed capture files of tests/vectors/capture-files (see PROVENANCE.md there).</summary>
public static class CaptureVectors
{
    /// <summary>Names of all of them.</summary>
    public static IReadOnlyList<string> Names { get; } =
    [
        "us_le.pcap", "us_be.pcap", "ns_le.pcap", "ns_be.pcap", "sacn_dual.pcap",
        "tiny.pcapng", "be.pcapng", "all.pcapng", "rdm.pcapng",
    ];

    /// <summary>Path of one.</summary>
    public static string PathOf(string name) => Path.Combine(Places.Repository, "tests", "vectors", "capture-files", name);

    /// <summary>Octets of one.</summary>
    public static byte[] Load(string name) => File.ReadAllBytes(PathOf(name));
}
