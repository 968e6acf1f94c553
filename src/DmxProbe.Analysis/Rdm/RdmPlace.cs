namespace DmxProbe.Analysis.Rdm;

/// <summary>A place that a device or a part of it says it reads.</summary>
/// <param name="Device">The device.</param>
/// <param name="Part">0 = the device itself.</param>
/// <param name="Address">Start address, 1 to 512.</param>
/// <param name="Footprint">Slots; null where it did not say.</param>
internal sealed record RdmPlace(RdmDevice Device, int Part, int Address, int? Footprint)
{
    /// <summary>Every place that devices say they read.</summary>
    public static IEnumerable<RdmPlace> Of(RdmDevice device)
    {
        if (device.StartAddress is int address and > 0)
        {
            yield return new RdmPlace(device, 0, address, device.Footprint);
        }

        foreach (RdmSubDevice part in device.SubDevices.Where(part => part.StartAddress > 0))
        {
            yield return new RdmPlace(device, part.Number, part.StartAddress, part.Footprint);
        }
    }
}
