using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Diagnosis;
using DmxProbe.Fixtures.Addressing;
using DmxProbe.Fixtures.Patch;

namespace DmxProbe.Testing.Diagnosis;

/// <summary>Causes that only a unit's light tells: it reads another address or mode, or nothing. The errors are common practice, no source.</summary>
public static class LightInjections
{
    private const long Minute = 60_000_000_000;
    private const int LastSlot = 512;
    private const int Inverted = 511;
    private static readonly UniverseProtocol[] Sacn = [UniverseProtocol.Sacn];

    /// <summary>The ways; one that a rig has no unit for throws <see cref="InvalidOperationException"/>.</summary>
    public static IReadOnlyList<FaultInjection> List { get; } =
    [
        Address("off-by-one", (rig, address) => address + (rig.Random.Chance(0.5) ? 1 : -1)),
        Address("one-switch-wrong", (rig, address) => address ^ (1 << (int)rig.Random.Next(0, 9))),
        Address("switches-inverted", (_, address) => Inverted - address, high: true),
        Address("switches-reversed", (_, address) => Enumerable.Range(0, 9).Sum(bit => ((address >> bit) & 1) << (8 - bit))),
        Address("digits-swapped", (rig, address) => rig.Random.Chance(0.5) ? (address / 100 * 100) + (address % 10 * 10) + (address / 10 % 10) : (address / 10 % 10 * 100) + (address / 100 * 10) + (address % 10)),
        Address("one-digit-wrong", (rig, address) =>
        {
            int place = rig.Random.Chance(0.5) ? 1 : 10;
            return address - (address / place % 10 * place) + ((int)rig.Random.Next(0, 10) * place);
        }),
        Address("display-upside-down", (_, address) => Rotated(address)),
        Address("address-not-stored", (_, _) => 1),
        Address("footprint-shift", (rig, address) => address + (rig.Random.Chance(0.5) ? 10 : -10), type: "wash"),
        Address("wrong-start-address", (rig, _) => (int)rig.Random.Next(1, LastSlot), known: false),
        Light("reads-anothers-address", (rig, unit) =>
        {
            PatchUnit other = rig.TargetUnits.First(each => each != unit && each.Type == unit.Type && each.Mode == unit.Mode);
            return (other.Universe, other.Address, unit.Mode);
        }),
        Light("wrong-universe", (_, unit) => (unit.Universe + 1, unit.Address, unit.Mode)),
        Light("universe-counted-from-zero", (_, unit) => (unit.Universe + 1, unit.Address, unit.Mode)),
        Light("universe-off-by-16", (rig, unit) =>
        {
            // Another show is sent there: the same units, other cues.
            FaultStream far = new()
            {
                Universe = rig.Usual(unit.Universe + 16),
                Plan = rig.Stream.Plan with { Levels = new FaultShow([.. rig.Units], rig.Charts, rig.Seed + 1_616).Of(unit.Universe) },
                To = rig.Stream.To,
            };
            rig.Main.Streams.Add(far);
            return (unit.Universe + 16, unit.Address, unit.Mode);
        }),
        Light("wrong-mode", (rig, unit) => (unit.Universe, unit.Address, rig.Charts.Find(unit.Type)!.Modes.First(mode => mode.Name != unit.Mode).Name), type: "wash"),
        Light("own-programme", (_, unit) => (0, unit.Address, unit.Mode)),
    ];

    /// <summary>
    /// The causes that lead from the sheet's place of a unit to where it really reads: no light tells them apart
    /// (<see cref="CauseClass.OnlyToOnePlace"/>).
    /// </summary>
    /// <param name="rig">A rig with a fault that the light tells.</param>
    public static IReadOnlyList<string> SamePlace(FaultRig rig)
    {
        ArgumentNullException.ThrowIfNull(rig);
        LightFault fault = rig.Light ?? throw new InvalidOperationException("nobody looked at a light of this rig");
        string[] errors =
        [
            .. HumanErrors.Candidates(fault.Unit, rig.Charts.FootprintOf(fault.Unit.Type, fault.Unit.Mode), new PatchSheet(rig.Units), [])
                .Where(candidate => fault.Mode.Name == fault.Unit.Mode && candidate.Universe == fault.SheetUniverse && candidate.Address == fault.Address)
                .SelectMany(candidate => candidate.Explanations),
        ];
        return [.. AllCauses.List.OfType<LocateCause>().Where(cause => errors.Any(cause.IsThis)).Select(cause => cause.Id)];
    }

    /// <summary>No fault: the unit that is complained of reads what the sheet says.</summary>
    public static FaultInjection AsTheSheetSays { get; } = Light("as-the-sheet-says", (_, unit) => (unit.Universe, unit.Address, unit.Mode));

    private static FaultInjection Address(string id, Func<FaultRig, int, int> error, string? type = null, bool known = true, bool high = false) => Light(id, (rig, unit) =>
    {
        int address = error(rig, unit.Address);
        bool isKnown = HumanErrors.Candidates(unit, rig.Charts.FootprintOf(unit.Type, unit.Mode), new PatchSheet(rig.Units), []).Any(candidate => candidate.Universe == unit.Universe && candidate.Address == address);
        return address is < 1 or > LastSlot || address == unit.Address || isKnown != known
            ? throw new InvalidOperationException("this error leads nowhere here")
            : (unit.Universe, address, unit.Mode);
    }, type, high);

    private static FaultInjection Light(string id, Func<FaultRig, PatchUnit, (int Universe, int Address, string Mode)> error, string? type = null, bool high = false) => new(id, Sacn, (rig, _) =>
    {
        rig.Length = Minute;
        Battens(rig, high);
        PatchUnit[] able = [.. rig.TargetUnits.Where(unit => unit.Type == (type ?? "batten") && (!high || unit.Address > LastSlot / 2))];
        PatchUnit unit = able[(int)rig.Random.Next(0, able.Length)];
        (int universe, int address, string mode) = error(rig, unit);
        rig.Light = new LightFault(unit, universe, address, rig.Charts.Find(unit.Type, mode)!);
        rig.Complain([unit]);
        rig.See();
    });

    // The small washes become battens, which have room there; the show is played anew for them.
    private static void Battens(FaultRig rig, bool high)
    {
        foreach (PatchUnit small in rig.Units.Where(unit => unit.Type == "wash" && unit.Mode == "6 slot").ToArray())
        {
            rig.Change(small, small with { Type = "batten", Mode = "4 slot" });
        }

        if (high)
        {
            // 511 less an address near the first slots lies where nothing is sent: one batten is patched where it lies on another.
            PatchUnit[] battens = [.. rig.TargetUnits.Where(unit => unit.Type == "batten")];
            rig.Change(battens[0], battens[0] with { Address = Inverted - battens[1].Address + (int)rig.Random.Next(-2, 3) });
        }

        FaultShow show = new([.. rig.Units], rig.Charts, rig.Seed);
        for (int universe = 1; universe <= FaultRig.Universes; universe++)
        {
            FaultStream stream = rig.Main.Streams.First(each => each.Universe == rig.Usual(universe));
            stream.Plan = stream.Plan with { Levels = show.Of(universe), SlotCount = high ? LastSlot : stream.Plan.SlotCount };
        }
    }

    // 0, 1, 2, 5 and 8 stay, 6 and 9 change places; the others show no number upside down.
    private static int Rotated(int address)
    {
        const string Upright = "01256890", Turned = "01259860";
        char[] digits = address.ToString("000", System.Globalization.CultureInfo.InvariantCulture).Reverse().ToArray();
        return digits.All(digit => Upright.Contains(digit))
            ? int.Parse(new string([.. digits.Select(digit => Turned[Upright.IndexOf(digit)])]), System.Globalization.CultureInfo.InvariantCulture)
            : -1;
    }
}
