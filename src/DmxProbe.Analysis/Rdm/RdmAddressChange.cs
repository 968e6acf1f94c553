using DmxProbe.Protocols.Rdm;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Rdm;

/// <summary>A change of a device's start address.</summary>
/// <param name="Time">When it was seen.</param>
/// <param name="From">The address before; 0 = none.</param>
/// <param name="To">The address after; 0 = none.</param>
/// <param name="SetBy">Who set it; null where nobody did in the capture, so somebody did at the device.</param>
public sealed record RdmAddressChange(Timestamp Time, int From, int To, RdmUid? SetBy)
{
    /// <summary>The record it was seen in.</summary>
    public long Record { get; init; }
}
