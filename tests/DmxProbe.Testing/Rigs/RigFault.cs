using DmxProbe.Fixtures.Addressing;

namespace DmxProbe.Testing.Rigs;

/// <summary>
/// Draws where a unit really is, by the errors of the trade. The kinds are common practice; the weights are this
/// generator's own and differ from those of <see cref="HumanErrors"/> on purpose.
/// </summary>
public static class RigFault
{
    /// <summary>Universe from 0 and address; always on a captured universe.</summary>
    public static (int Universe, int Address) Draw(RigUnit unit, RigPlan plan, RigRandom random)
    {
        while (true)
        {
            double kind = random.Unit();
            int address = unit.Address;
            int universe = unit.Universe;
            switch (kind)
            {
                case < 0.14:
                    return Anywhere(random);
                case < 0.40:
                    break;
                case < 0.54:
                    address += random.Chance(0.5) ? 1 : -1;
                    break;
                case < 0.64:
                    address ^= 1 << random.Below(9);
                    break;
                case < 0.71:
                    address = SwapDigits(address, random);
                    break;
                case < 0.84:
                    RigUnit other = random.Pick([.. plan.Units.Where(candidate => candidate.OnSheet)]);
                    (universe, address) = (other.Universe, other.Address);
                    break;
                case < 0.92:
                    universe += random.Chance(0.5) ? 1 : -1;
                    break;
                case < 0.95:
                    address = 1;
                    break;
                case < 0.98:
                    address += unit.Mode.Footprint * (random.Chance(0.5) ? 1 : -1) * (1 + random.Below(3));
                    break;
                case < 0.99:
                    address = 511 - address;
                    break;
                default:
                    address = Reversed(address);
                    break;
            }

            if (address is >= 1 and <= 512 && universe is >= 0 and < RigPlan.Captured)
            {
                return (universe, address);
            }
        }
    }

    /// <summary>Any address of any captured universe.</summary>
    public static (int Universe, int Address) Anywhere(RigRandom random) => (random.Below(RigPlan.Captured), 1 + random.Below(512));

    private static int SwapDigits(int address, RigRandom random)
    {
        int hundreds = address / 100, tens = address / 10 % 10, ones = address % 10;
        return random.Chance(0.5) ? (hundreds * 100) + (ones * 10) + tens : (tens * 100) + (hundreds * 10) + ones;
    }

    private static int Reversed(int address)
    {
        int reversed = 0;
        for (int bit = 0; bit < 9; bit++)
        {
            reversed |= ((address >> bit) & 1) << (8 - bit);
        }

        return reversed;
    }
}
