namespace DmxProbe.Protocols.Sacn;

/// <summary>Vectors of E1.31-2018 Appendix A, and two met in the field that it does not define.</summary>
public static class SacnVector
{
    /// <summary>VECTOR_ROOT_E131_DATA.</summary>
    public const uint RootData = 0x00000004;

    /// <summary>VECTOR_ROOT_E131_EXTENDED: synchronization and universe discovery.</summary>
    public const uint RootExtended = 0x00000008;

    /// <summary>Root vector of the draft before ratification (from general dissectors, not from the standard).</summary>
    public const uint RootDraft = 0x00000003;

    /// <summary>Root vector of a secured variant (from general dissectors); its content is not decoded.</summary>
    public const uint RootSecured = 0x50430001;

    /// <summary>VECTOR_E131_DATA_PACKET, under <see cref="RootData"/>.</summary>
    public const uint FramingData = 0x00000002;

    /// <summary>VECTOR_E131_EXTENDED_SYNCHRONIZATION, under <see cref="RootExtended"/>.</summary>
    public const uint FramingSynchronization = 0x00000001;

    /// <summary>VECTOR_E131_EXTENDED_DISCOVERY, under <see cref="RootExtended"/>: the number of <see cref="FramingData"/>, so the root vector decides.</summary>
    public const uint FramingDiscovery = 0x00000002;

    /// <summary>VECTOR_UNIVERSE_DISCOVERY_UNIVERSE_LIST.</summary>
    public const uint UniverseList = 0x00000001;

    /// <summary>VECTOR_DMP_SET_PROPERTY.</summary>
    public const byte DmpSetProperty = 0x02;
}
