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

    /// <summary>DMX_PERSONALITY_DESCRIPTION: footprint and name of one personality.</summary>
    public const int PersonalityDescription = 0x00E1;

    /// <summary>SLOT_INFO: what each slot is.</summary>
    public const int SlotInfo = 0x0120;

    /// <summary>SLOT_DESCRIPTION: the name of one slot.</summary>
    public const int SlotDescription = 0x0121;

    /// <summary>DEVICE_MODEL_DESCRIPTION.</summary>
    public const int ModelDescription = 0x0080;

    /// <summary>MANUFACTURER_LABEL.</summary>
    public const int ManufacturerLabel = 0x0081;

    /// <summary>DEVICE_LABEL: what a person named the device.</summary>
    public const int DeviceLabel = 0x0082;

    /// <summary>DMX_BLOCK_ADDRESS: the address of a block of sub-devices (E1.37-1, known from secondary sources).</summary>
    public const int BlockAddress = 0x0140;

    /// <summary>IDENTIFY_DEVICE: the device shows itself, whatever the levels say.</summary>
    public const int IdentifyDevice = 0x1000;

    /// <summary>What a parameter is called; the number where it is none of the common ones.</summary>
    public static string Name(int parameter) => parameter switch
    {
        DiscoverUniqueBranch => "DISC_UNIQUE_BRANCH",
        0x0002 => "DISC_MUTE",
        0x0003 => "DISC_UN_MUTE",
        0x0030 => "STATUS_MESSAGES",
        0x0050 => "SUPPORTED_PARAMETERS",
        DeviceInfo => "DEVICE_INFO",
        ModelDescription => "DEVICE_MODEL_DESCRIPTION",
        ManufacturerLabel => "MANUFACTURER_LABEL",
        DeviceLabel => "DEVICE_LABEL",
        Personality => "DMX_PERSONALITY",
        PersonalityDescription => "DMX_PERSONALITY_DESCRIPTION",
        StartAddress => "DMX_START_ADDRESS",
        SlotInfo => "SLOT_INFO",
        SlotDescription => "SLOT_DESCRIPTION",
        0x0122 => "DEFAULT_SLOT_VALUE",
        BlockAddress => "DMX_BLOCK_ADDRESS",
        IdentifyDevice => "IDENTIFY_DEVICE",
        0x1001 => "RESET_DEVICE",
        _ => parameter.ToString("X4", System.Globalization.CultureInfo.InvariantCulture) + "h",
    };
}
