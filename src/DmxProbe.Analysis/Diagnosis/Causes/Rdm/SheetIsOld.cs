namespace DmxProbe.Analysis.Diagnosis.Causes.Rdm;

/// <summary>Cause: the sheet is not of this rig.</summary>
internal sealed class SheetIsOld() : Cause(
    new CauseCard("sheet-is-old", CauseGroup.Addressing, "the sheet is old, or of another rig")
    {
        Needs = [CauseInputs.Rdm | CauseInputs.Sheet],
        Test = "Of four RDM devices or more that were compared with the sheet, over 30 % do not stand as it says (thresholds: proposals, no source).",
        Explains = ["rdm-address-differs", "rdm-mode-differs", "rdm-not-on-sheet"],
        Fix = "Make the sheet anew from what the units say (dmxprobe patch check SHEET --capture INPUT lists it).",
        Check = new NextCheck("Look at the date of the sheet, and read three addresses off units.", 120, Ladder: true),
        Cautions = [Caution.Ladder],
    })
{
    private const int Fewest = 4;
    private const double Share = 0.3;

    /// <inheritdoc/>
    public override IEnumerable<CauseReport> Find(DiagnosisCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        if (it.RdmSheet is { Compared: >= Fewest } sheet && sheet.Compared - sheet.AsTheSheetSays > Share * sheet.Compared)
        {
            yield return Report(
                CauseState.Likely,
                "the sheet",
                FormattableString.Invariant($"only {sheet.AsTheSheetSays} of {sheet.Compared} RDM devices stand as the sheet says: the sheet is old, or of another rig."),
                [.. sheet.Remarks.Take(3).Select(remark => new CauseEvidence(remark.Text))]) with
            {
                Units = [.. sheet.Remarks.SelectMany(remark => remark.Units).Distinct(StringComparer.OrdinalIgnoreCase)],
            };
        }
    }

    /// <inheritdoc/>
    public override string? Exclusion(DiagnosisCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        return it.RdmSheet is { Compared: >= Fewest } sheet ? FormattableString.Invariant($"{sheet.AsTheSheetSays} of {sheet.Compared} RDM devices stand as the sheet says.") : null;
    }
}
