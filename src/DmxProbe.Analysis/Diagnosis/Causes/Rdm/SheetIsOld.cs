using System.Globalization;

using DmxProbe.Analysis.Diagnosis.Causes.Network;
using DmxProbe.Analysis.Findings;

namespace DmxProbe.Analysis.Diagnosis.Causes.Rdm;

/// <summary>Cause: the sheet is not of this rig.</summary>
internal sealed class SheetIsOld() : Cause(
    new CauseCard("sheet-is-old", CauseGroup.Addressing, "the sheet is old, or of another rig")
    {
        Needs = [CauseInputs.Rdm | CauseInputs.Sheet, CauseInputs.Network | CauseInputs.Sheet],
        Test = "Levels are sent, and none of them on a universe of the sheet; or of four RDM devices or more that were compared with the sheet, over 30 % do not stand as it says (thresholds: proposals, no source).",
        Explains = ["rdm-address-differs", "rdm-mode-differs", "rdm-not-on-sheet", "chart-missing", "universe-not-sent"],
        Missing = CauseInputs.Rdm,
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
        if (it is { Sheet: { } patch, IsTooShort: false, Survey.Universes.Count: > 0, RdmSheet: null or { Compared: 0 } }
            && it.Inputs.HasFlag(CauseInputs.Network) && patch.Universes.Count > 0 && patch.Universes.All(number => UniverseNotSent.IsAbsent(it, number))
            && UniversesShifted.ShiftOfAll(it) is null)
        {
            string sent = Words.List(it.Survey.Universes.Select(known => known.Id.Label));
            string asked = Words.List(patch.Universes.Select(number => number.ToString(CultureInfo.InvariantCulture)));
            yield return Report(
                CauseState.Likely,
                "the sheet",
                $"is this the sheet of this show? None of its universes ({asked}) is sent in this capture, which has {sent}.",
                new CauseEvidence($"universes of the sheet: {asked}; captured: {sent}")) with
            {
                Units = [.. it.Units.Select(unit => unit.Watched.Unit.Unit)],
                Action = "Give the sheet of this show; if it is the one, say which universe of the wire is which with --map, or capture where its universes pass.",
                Check = new NextCheck("Look at the name and the date of the sheet, and of the capture.", 20),
                Cautions = [],
                IsAskedFirst = true,
            };
        }

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
