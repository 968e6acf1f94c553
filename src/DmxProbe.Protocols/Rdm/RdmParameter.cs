namespace DmxProbe.Protocols.Rdm;

/// <summary>Parameter IDs that a troubleshooter meets (ANSI E1.20, known from secondary sources).</summary>
public static class RdmParameter
{
    /// <summary>DISC_UNIQUE_BRANCH: who is there in a range of UIDs?</summary>
    public const int DiscoverUniqueBranch = 0x0001;

    /// <summary>DEVICE_INFO: model, footprint, personality, start address.</summary>
    public const int DeviceInfo = 0x0060;

    /// <summary>DMX_PERSONALITY.</summary>
    public const int Personality = 0x00E0;

    /// <summary>DMX_START_ADDRESS.</summary>
    public const int StartAddress = 0x00F0;

    /// <summary>What a parameter is called; the number where it is none of the common ones.</summary>
    public static string Name(int parameter) => parameter switch
    {
        DiscoverUniqueBranch => "DISC_UNIQUE_BRANCH",
        0x0002 => "DISC_MUTE",
        0x0003 => "DISC_UN_MUTE",
        0x0030 => "STATUS_MESSAGES",
        0x0050 => "SUPPORTED_PARAMETERS",
        DeviceInfo => "DEVICE_INFO",
        0x0080 => "DEVICE_MODEL_DESCRIPTION",
        0x0081 => "MANUFACTURER_LABEL",
        0x0082 => "DEVICE_LABEL",
        Personality => "DMX_PERSONALITY",
        0x00E1 => "DMX_PERSONALITY_DESCRIPTION",
        StartAddress => "DMX_START_ADDRESS",
        0x0120 => "SLOT_INFO",
        0x0121 => "SLOT_DESCRIPTION",
        0x0122 => "DEFAULT_SLOT_VALUE",
        0x1000 => "IDENTIFY_DEVICE",
        0x1001 => "RESET_DEVICE",
        _ => parameter.ToString("X4", System.Globalization.CultureInfo.InvariantCulture) + "h",
    };
}
