namespace DmxProbe.Testing.Network.Packets;

/// <summary>
/// Builds Art-Net packets (standards-facts C1 to C4). Written from the layouts alone, with no help from the views in
/// src, so that each checks the other.
/// </summary>
public static class ArtNetPackets
{
    /// <summary>UDP port, source and destination.</summary>
    public const int Port = 6454;

    /// <summary>ArtDmx: 18 octets and the slots.</summary>
    /// <param name="portAddress">15-bit Port-Address, from 0.</param>
    /// <param name="sequence">1 to 255, or 0 where the sender does not count.</param>
    /// <param name="slots">Slot 1 first.</param>
    /// <param name="physical">Physical input port.</param>
    /// <param name="statedLength">The Length field where it is to lie.</param>
    public static byte[] Dmx(
        int portAddress,
        int sequence,
        ReadOnlySpan<byte> slots,
        int physical = 0,
        int? statedLength = null) =>
        Header(0x5000)
            .U8(sequence).U8(physical).U8(portAddress & 0xFF).U8(portAddress >> 8)
            .U16(statedLength ?? slots.Length).Raw(slots)
            .ToArray();

    /// <summary>ArtNzs: a START code other than 0 and its slots.</summary>
    public static byte[] Nzs(int portAddress, int sequence, int startCode, ReadOnlySpan<byte> slots) =>
        Header(0x5100)
            .U8(sequence).U8(startCode).U8(portAddress & 0xFF).U8(portAddress >> 8)
            .U16(slots.Length).Raw(slots)
            .ToArray();

    /// <summary>ArtSync.</summary>
    public static byte[] Sync() => Header(0x5200).U16(0).ToArray();

    /// <summary>ArtPoll of 22 octets, or of the 14 that older senders stop at.</summary>
    public static byte[] Poll(int flags = 0x02, int diagPriority = 0x10, bool old = false)
    {
        PacketBytes bytes = Header(0x2000).U8(flags).U8(diagPriority);
        return (old ? bytes : bytes.Zeros(8)).ToArray();
    }

    /// <summary>ArtPollReply: 239 octets, or cut or lengthened to <see cref="ArtPollReplyFields.Length"/>.</summary>
    public static byte[] PollReply(ArtPollReplyFields fields)
    {
        byte[] full = new PacketBytes()
            .Raw("Art-Net\0"u8).U16LowFirst(0x2100)
            .Raw(fields.Address.GetAddressBytes()).U16LowFirst(fields.StatedPort)
            .U16(fields.Version).U8(fields.PortAddress >> 8).U8((fields.PortAddress >> 4) & 0xF)
            .U16(fields.Oem).U8(0).U8(fields.Status1).U16LowFirst(fields.EstaManufacturer)
            .Text(fields.PortName, 18).Text(fields.LongName, 64).Text(fields.NodeReport, 64)
            .U16(fields.PortCount)
            .U8(fields.PortType).Zeros(3)
            .U8(fields.GoodInput).Zeros(3)
            .U8(fields.GoodOutputA).Zeros(3)
            .U8(fields.PortType == 0x40 ? fields.PortAddress & 0xF : 0).Zeros(3)
            .U8(fields.PortType == 0x80 ? fields.PortAddress & 0xF : 0).Zeros(3)
            .U8(fields.AcnPriority).Zeros(5).U8(fields.Style)
            .Raw(fields.Mac).Raw(fields.Address.GetAddressBytes()).U8(fields.BindIndex)
            .U8(fields.Status2).U8(fields.GoodOutputB).Zeros(3).U8(0).Zeros(6).U16(0)
            .U16(fields.RefreshRate).U8(0).Zeros(10)
            .ToArray();
        Array.Resize(ref full, fields.Length);
        return full;
    }

    /// <summary>Any other Art-Net packet: the common header and what follows it.</summary>
    public static byte[] Other(int opCode, ReadOnlySpan<byte> body) => Header(opCode).Raw(body).ToArray();

    private static PacketBytes Header(int opCode) =>
        new PacketBytes().Raw("Art-Net\0"u8).U16LowFirst(opCode).U16(14);
}
