using DmxProbe.Analysis.Decoding;

namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: sheet and wire number the universes differently.</summary>
internal sealed class UniversesShifted() : Cause(
    new CauseCard("universe-numbers-shifted", CauseGroup.Network, "universes numbered one off, or 16 or 256 off")
    {
        Needs = [CauseInputs.Network | CauseInputs.Sheet],
        Test = "A universe of the sheet is not sent, and one that is on no sheet is: one further or one before all others, or 16 or 256 off (Art-Net 4: Net, Sub-Net and Universe make the number; sACN counts from 1).",
        NotSeen = "No universe is sent that the sheet does not have while one of the sheet is missing.",
        Explains = ["universe-not-sent"],
        Fix = "Set controller and gateways to one numbering; say on the sheet which.",
        Check = new NextCheck("Compare the universe number at the controller with that at the gateway, both forms: 0:0:0 and 0.", 30),
        Cautions = [Caution.Returning],
        Frequency = CauseFrequency.Common,
    })
{
    private static readonly int[] Offsets = [1, -1, 16, -16, 256, -256];

    // Where a universe of a sheet that counts from 1 is to be expected: sACN n, Art-Net n - 1 or n.
    private static readonly (UniverseProtocol Protocol, int Shift)[] Ways = [(UniverseProtocol.Sacn, 0), (UniverseProtocol.ArtNet, -1), (UniverseProtocol.ArtNet, 0)];

    /// <inheritdoc/>
    public override IEnumerable<CauseReport> Find(DiagnosisCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        int[] missing = [.. it.Sheet!.Universes.Where(sheet => UniverseNotSent.IsAbsent(it, sheet))];
        UniverseId[] spare = Spare(it);
        if (missing.Length == 0 || spare.Length == 0)
        {
            yield break;
        }

        // All of them shifted: those in the middle seem to be there, and are another's.
        if (ShiftOfAll(it) is int shift)
        {
            yield return Of(it, it.Sheet.Universes, spare[0], shift, FormattableString.Invariant($"the sheet's universes are all sent {Math.Abs(shift)} {(shift > 0 ? "higher" : "lower")} than the sheet numbers them: {spare[0].Label} stands on no sheet, and universe {missing[0]} of the sheet is missing."));
            yield break;
        }

        foreach (int sheet in missing)
        {
            foreach ((UniverseId id, int off) in spare.SelectMany(id => Ways.Where(way => way.Protocol == id.Protocol).Select(way => (Id: id, Off: id.Number - sheet - way.Shift))).Where(pair => Offsets.Contains(pair.Off)).OrderByDescending(pair => Math.Abs(pair.Off)).Take(1))
            {
                yield return Of(it, [sheet], id, off, FormattableString.Invariant($"nobody sends universe {sheet} of the sheet, but {id.Label} is sent and stands on no sheet: the numbering is {Math.Abs(off)} off somewhere."));
            }
        }
    }

    /// <summary>By how much every universe of a sheet of several is sent higher (lower below 0) than the sheet numbers it; null where that is not so.</summary>
    internal static int? ShiftOfAll(DiagnosisCase it)
    {
        if (it.Sheet is not { Universes: { Count: > 1 } numbers } || Spare(it) is not { Length: > 0 } spare)
        {
            return null;
        }

        HashSet<UniverseId> sent = Sent(it);
        foreach (int off in Offsets)
        {
            foreach ((UniverseProtocol protocol, int shift) in Ways)
            {
                if (numbers.All(number => sent.Contains(new UniverseId(protocol, number + shift + off))) && spare.Any(id => id.Protocol == protocol))
                {
                    return off;
                }
            }
        }

        return null;
    }

    private static HashSet<UniverseId> Sent(DiagnosisCase it) => [.. it.Survey.Universes.Where(universe => universe.Streams.Any(stream => stream.LevelFrames > 0)).Select(universe => universe.Id)];

    // Sent, and on no sheet.
    private static UniverseId[] Spare(DiagnosisCase it)
    {
        HashSet<UniverseId> onSheet = [.. it.Wire.Values];
        return [.. Sent(it).Where(id => id.Protocol is UniverseProtocol.Sacn or UniverseProtocol.ArtNet && !onSheet.Contains(id)).Order()];
    }

    private CauseReport Of(DiagnosisCase it, IReadOnlyList<int> sheet, UniverseId spare, int off, string text) => Report(
        CauseState.Likely,
        sheet.Count == 1 ? FormattableString.Invariant($"universe {sheet[0]} of the sheet") : "universes of the sheet",
        text,
        new CauseEvidence(FormattableString.Invariant($"{spare.Label} is {Math.Abs(off)} {(off > 0 ? "above" : "below")} where the sheet's numbers lead; {sheet.Count} of the sheet's universes are concerned."))) with
    {
        Units = [.. it.Units.Where(unit => sheet.Contains(unit.Watched.Unit.Universe)).Select(unit => unit.Watched.Unit.Unit)],
    };
}
