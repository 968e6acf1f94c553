using DmxProbe.Analysis.Rdm;

namespace DmxProbe.Analysis.Diagnosis;

/// <summary>A cause that an RDM device's own words prove, held against the sheet.</summary>
/// <param name="card">What is always true of it.</param>
/// <param name="remark">The remark that proves it (<see cref="RdmRemark.Id"/>).</param>
public abstract class RdmSheetCause(CauseCard card, string remark) : Cause(card)
{
    private const int Most = 8;

    /// <inheritdoc/>
    public override IEnumerable<CauseReport> Find(DiagnosisCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        return (it.RdmSheet?.Remarks ?? []).Where(found => found.Id == remark).OrderByDescending(found => found.Units.Any(it.IsBad)).Take(Most).Select(found =>
            Report(CauseState.Proven, found.Units.Count > 0 ? found.Units[0] : found.Uid, found.Text, Reply(found, it)) with
            {
                Severity = found.Severity,
                Units = found.Units,
                Action = found.Action,
            });
    }

    /// <inheritdoc/>
    public override string? Exclusion(DiagnosisCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        if (it.RdmSheet is not { Compared: > 0 } sheet)
        {
            return null;
        }

        // Without bad units: every device that could be compared. With them: theirs.
        return it.Bad.Count == 0
            ? sheet.AsTheSheetSays == sheet.Compared ? "Every RDM device that says where it reads stands as the sheet says." : null
            : it.Bad.All(unit => sheet.Right.Contains(unit, StringComparer.OrdinalIgnoreCase)) ? $"RDM: {(it.Bad.Count == 1 ? "the bad unit says" : "the bad units say")} address and slots of the sheet." : null;
    }

    // The device's own reply: when it came, and in which record.
    private static CauseEvidence Reply(RdmRemark found, DiagnosisCase it)
    {
        RdmDevice? device = it.Survey.Rdm?.Devices.FirstOrDefault(each => each.Uid.ToString() == found.Uid);
        bool mode = found.Id == "rdm-mode-differs";
        string said = device is null ? "" : FormattableString.Invariant($"the device {device.Uid} replied: start address {device.StartAddress}{(device.Footprint is int slots ? $", {slots} slots" : "")}{(device.Personality is int number ? $", personality {number}" : "")}");
        return new CauseEvidence(said.Length > 0 ? said : found.Text)
        {
            From = mode ? device?.PersonalityAt : device?.AddressAt,
            To = mode ? device?.PersonalityAt : device?.AddressAt,
            FirstRecord = (mode ? device?.PersonalityRecord : device?.AddressRecord) ?? 0,
        };
    }
}
