namespace DmxProbe.Protocols.CaptureFiles;

/// <summary>What the options of pcapng blocks say about packets the capture lost. Damaged options end the list.</summary>
internal static class PcapngDrops
{
    /// <summary>The drops field of an obsolete Packet Block; all ones when it does not say.</summary>
    public static ulong BeforeOldPacket(ushort drops) => drops == ushort.MaxValue ? 0UL : drops;

    /// <summary>epb_dropcount of an Enhanced Packet Block; 0 when it does not say.</summary>
    public static ulong BeforePacket(PcapngOptions options)
    {
        while (options.MoveNext())
        {
            if (options.Code == PcapngFormat.Option.PacketDropCount && options.TryGetUInt64(out ulong lost))
            {
                return lost;
            }
        }

        return 0;
    }

    /// <summary>
    /// isb_ifdrop and isb_osdrop of an Interface Statistics Block together: a packet is dropped by the interface or by
    /// the system, never by both.
    /// </summary>
    public static ulong SinceStart(PcapngOptions options)
    {
        ulong total = 0;
        while (options.MoveNext())
        {
            if (options.Code is PcapngFormat.Option.StatisticsInterfaceDrop or PcapngFormat.Option.StatisticsSystemDrop
                && options.TryGetUInt64(out ulong count))
            {
                total = unchecked(total + count) < total ? ulong.MaxValue : total + count;
            }
        }

        return total;
    }
}
