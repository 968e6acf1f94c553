using DmxProbe.Analysis.Rdm;

namespace DmxProbe.Analysis.Diagnosis.Causes.Rdm;

/// <summary>Cause: units numbered one behind the other by themselves.</summary>
internal sealed class NumberedByItself() : Cause(
    new CauseCard("numbered-by-itself", CauseGroup.Addressing, "units were numbered one behind the other by themselves")
    {
        Needs = [CauseInputs.Rdm | CauseInputs.Sheet],
        Test = "Three RDM devices of a universe or more stand from address 1 on without a gap, each where the one before it ends, and over half of those compared do not stand as the sheet says (thresholds: proposals, no source).",
        Explains = ["rdm-address-differs", "rdm-not-on-sheet", "sheet-is-old"],
        Fix = "Set the addresses of the sheet again, and lock the menus of the units.",
        Check = new NextCheck("Ask who held a button on the first unit of the chain, or used an addressing function.", 20),
        Frequency = CauseFrequency.Rare,
        Cautions = [Caution.Setting],
    })
{
    private const int Fewest = 3;

    /// <inheritdoc/>
    public override IEnumerable<CauseReport> Find(DiagnosisCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        if (it.Survey.Rdm is not { } rdm || it.RdmSheet is not { } sheet || sheet.AsTheSheetSays * 2 >= sheet.Compared)
        {
            yield break;
        }

        foreach (IGrouping<Decoding.UniverseId, RdmDevice> universe in rdm.Devices.Where(device => device is { StartAddress: > 0, Footprint: > 0 }).GroupBy(device => device.Universe))
        {
            int next = 1, run = 0;
            foreach (RdmDevice device in universe.OrderBy(device => device.StartAddress).TakeWhile(device => device.StartAddress == next))
            {
                next += device.Footprint!.Value;
                run++;
            }

            if (run >= Fewest)
            {
                string[] touched = [.. sheet.Remarks.SelectMany(remark => remark.Units).Distinct(StringComparer.OrdinalIgnoreCase)];
                yield return Report(
                    CauseState.Likely,
                    universe.Key.Label,
                    FormattableString.Invariant($"{universe.Key.Label}: {run} RDM devices stand from address 1 on without a gap, up to {next - 1}, and only {sheet.AsTheSheetSays} of {sheet.Compared} as the sheet says: they were numbered by themselves."),
                    new CauseEvidence(FormattableString.Invariant($"addresses {string.Join(", ", universe.OrderBy(device => device.StartAddress).Take(run).Take(8).Select(device => device.StartAddress))}"))) with
                {
                    Units = touched,
                };
            }
        }
    }

    /// <inheritdoc/>
    public override string? Exclusion(DiagnosisCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        return it.RdmSheet is { Compared: >= Fewest } ? "RDM devices do not stand one behind the other from address 1 on, or stand so on the sheet." : null;
    }
}
