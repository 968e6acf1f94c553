namespace DmxProbe.Protocols.Records;

/// <summary>Link types as numbered in the pcap link-type registry (standards-facts E3). Other numbers are kept as they are.</summary>
public enum LinkType
{
    /// <summary>Not a network interface: a serial port, a line channel, marks, a light sensor. Never written to a file.</summary>
    None = -1,

    /// <summary>BSD loopback: 4 octets of address family in the capturing host's byte order.</summary>
    Null = 0,

    /// <summary>Ethernet, with or without 802.1Q tags.</summary>
    Ethernet = 1,

    /// <summary>IP packet without a link header; the version is in the first nibble.</summary>
    Raw = 101,

    /// <summary>OpenBSD loopback: as <see cref="Null"/> but always big endian.</summary>
    Loop = 108,

    /// <summary>Linux cooked capture, 16 octets.</summary>
    LinuxSll = 113,

    /// <summary>IPv4 packet without a link header.</summary>
    Ipv4 = 228,

    /// <summary>IPv6 packet without a link header.</summary>
    Ipv6 = 229,

    /// <summary>Linux cooked capture version 2, 20 octets.</summary>
    LinuxSll2 = 276,
}
