using DmxProbe.Analysis.Decoding;
using DmxProbe.Fixtures.Addressing;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;

namespace DmxProbe.Testing.Diagnosis;

/// <summary>Causes put into a unit's address, switches, mode or head, seen only in its light.</summary>
internal static class LightInjections
{
    private const int Slots = 512;
    private static readonly UniverseProtocol[] Sacn = [UniverseProtocol.Sacn];

    /// <summary>The ways.</summary>
    public static IReadOnlyList<FaultInjection> List { get; } =
    [
        Error("off-by-one", "one too high", "one too low"),
        Error("one-switch-wrong", "one address switch"),
        Error("switches-reversed", "wrong end of the switch bank"),
        Error("switches-inverted", "exchanged on the switch bank"),
        Error("display-upside-down", "read upside down"),
        Error("digits-swapped", "digits swapped"),
        Error("one-digit-wrong", "one digit is wrong"),
        Error("address-not-stored", "still at address 1"),
        Error("reads-anothers-address", "has the address of"),
        Error("footprint-shift", "shifted up", "shifted down"),
        Error("wrong-universe", "plugged into"),
        Error("universe-counted-from-zero", "numbered from 0"),
        Error("wrong-mode", "but in mode"),
        new("wrong-start-address", Sacn, (rig, _) => Put(rig, (unit, candidates) =>
        {
            int[] free = [.. Enumerable.Range(1, 90).Where(address => !candidates.Any(candidate => candidate.Universe == unit.Universe && candidate.Address == address))];
            return free.Length == 0 ? null : (unit.Universe, free[rig.Random.Next(0, free.Length)], unit.Mode);
        })),
        new("own-programme", Sacn, (rig, _) => Put(rig, (unit, _) => (0, unit.Address, unit.Mode))),
    ];

    private static FaultInjection Error(string id, params string[] words) => new(id, Sacn, (rig, _) => Put(rig, (unit, candidates) =>
    {
        AddressCandidate[] able =
        [
            .. candidates.Where(candidate => candidate.Universe is >= 1 and <= FaultRig.Universes && candidate.Address is > 0 and < 130
                && (candidate.Universe, candidate.Address, candidate.Mode ?? unit.Mode) != (unit.Universe, unit.Address, unit.Mode)
                && words.Any(word => candidate.Explanation.StartsWith(word, StringComparison.Ordinal) || candidate.Explanation.Contains(word, StringComparison.Ordinal))),
        ];
        if (able.Length == 0)
        {
            return null;
        }

        AddressCandidate chosen = able[rig.Random.Next(0, able.Length)];
        return (chosen.Universe, chosen.Address, chosen.Mode ?? unit.Mode);
    }));

    // A unit of any universe with colours, whose light then changes; the first for which the error leads somewhere it can be.
    private static void Put(FaultRig rig, Func<PatchUnit, IReadOnlyList<AddressCandidate>, (int Universe, int Address, string Mode)?> truth)
    {
        PatchSheet sheet = new(rig.Units);
        PatchUnit[] order = [.. rig.Units.Where(unit => unit.Type == "wash").OrderBy(_ => rig.Random.NextBits())];
        foreach (PatchUnit unit in order)
        {
            ChartMode mode = rig.Charts.Find(unit.Type, unit.Mode)!;
            string[] others = [.. rig.Charts.Find(unit.Type)!.Modes.Where(other => other != mode).Select(other => other.Name)];
            if (truth(unit, HumanErrors.Candidates(unit, mode.Footprint, sheet, others)) is (int universe, int address, string read) && address + Slots / 20 < Slots)
            {
                rig.Light = new FaultLight(unit, universe, address, read);
                rig.Complain([unit]);
                return;
            }
        }

        throw new InvalidOperationException("no unit of the rig can have this error");
    }
}
