namespace DmxProbe.Protocols.CaptureFiles;

/// <summary>Numbers of the pcapng layout (draft-ietf-opsawg-pcapng), each named once for reader and writer.</summary>
internal static class PcapngFormat
{
    /// <summary>Type and both total lengths: the octets of a block without a body.</summary>
    public const int BlockOverhead = 12;

    /// <summary>Type and first total length: the octets before a body.</summary>
    public const int HeaderLength = 8;

    /// <summary>Longest block read or written, in octets; a larger length is taken for damage.</summary>
    public const int LongestBlock = 16 * 1024 * 1024;

    /// <summary>Written at the start of every section in the writer's byte order.</summary>
    public const uint ByteOrderMagic = 0x1A2B3C4D;

    /// <summary>Section Header Block; reads the same in both byte orders.</summary>
    public const uint SectionHeader = 0x0A0D0D0A;

    /// <summary>Interface Description Block.</summary>
    public const uint InterfaceDescription = 1;

    /// <summary>Packet Block, obsolete: read, never written.</summary>
    public const uint OldPacket = 2;

    /// <summary>Simple Packet Block: no time, no interface number.</summary>
    public const uint SimplePacket = 3;

    /// <summary>Interface Statistics Block.</summary>
    public const uint InterfaceStatistics = 5;

    /// <summary>Enhanced Packet Block.</summary>
    public const uint EnhancedPacket = 6;

    /// <summary>Types with this bit set are for local use: nobody assigns them.</summary>
    public const uint LocalUse = 0x80000000;

    /// <summary>Our block that describes a channel (docs/formats.md). Others may use the same number, so the body starts with <see cref="Signature"/>.</summary>
    public const uint Channel = 0x80445801;

    /// <summary>Our block that holds a record of a channel.</summary>
    public const uint ChannelRecord = 0x80445802;

    /// <summary>Starts the body of our blocks and the value of our option: numbers for local use belong to nobody.</summary>
    public static ReadOnlySpan<byte> Signature => "DmxProbe"u8;

    /// <summary>Option codes. Their meaning depends on the block except for the first two.</summary>
    public static class Option
    {
        public const ushort End = 0;
        public const ushort Comment = 1;
        public const ushort SectionApplication = 4;
        public const ushort InterfaceName = 2;
        public const ushort InterfaceDescription = 3;
        public const ushort InterfaceResolution = 9;
        public const ushort InterfaceOffset = 14;
        public const ushort InterfaceClock = 0x8D58; // ours, of local use
        public const ushort PacketDropCount = 4;
        public const ushort StatisticsReceived = 4;
        public const ushort StatisticsInterfaceDrop = 5;
        public const ushort StatisticsSystemDrop = 7;
    }

    /// <summary>A length with its padding to a multiple of 4.</summary>
    public static int Padded(int length) => (length + 3) & ~3;
}
