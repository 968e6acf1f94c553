namespace DmxProbe.Fixtures.Addressing;

/// <summary>Where another unit of the sheet is.</summary>
/// <param name="Unit">Its name; untrusted text.</param>
/// <param name="Universe">Universe by the sheet's numbering.</param>
/// <param name="Address">Start address, 1 to 512.</param>
public readonly record struct OtherAddress(string Unit, int Universe, int Address);
