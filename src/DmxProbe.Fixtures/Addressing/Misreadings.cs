using System.Globalization;

namespace DmxProbe.Fixtures.Addressing;

/// <summary>The arithmetic of misread and mistyped addresses. Results may lie outside 1 to 512: the caller decides.</summary>
public static class Misreadings
{
    private const int SwitchMask = (1 << DipSwitches.Count) - 1;

    /// <summary>The nine switches read from the other end: 121 becomes 316.</summary>
    public static int Reversed(int value)
    {
        int reversed = 0;
        for (int bit = 0; bit < DipSwitches.Count; bit++)
        {
            reversed |= ((value >> bit) & 1) << (DipSwitches.Count - 1 - bit);
        }

        return reversed;
    }

    /// <summary>The nine switches with ON and OFF exchanged: 121 becomes 390.</summary>
    public static int Inverted(int value) => SwitchMask - (value & SwitchMask);

    /// <summary>A number read upside down (0, 1, 2, 5 and 8 stay, 6 and 9 change places, the order turns round): 109 becomes 601.</summary>
    /// <param name="digits">The digits as shown, leading zeros included.</param>
    /// <returns>The number, or null when a digit is none upside down.</returns>
    public static int? UpsideDown(string digits)
    {
        ArgumentNullException.ThrowIfNull(digits);
        int value = 0;
        for (int i = digits.Length - 1; i >= 0; i--)
        {
            int turned = Turned(digits[i]);
            if (turned < 0 || value > 99_999)
            {
                return null;
            }

            value = (value * 10) + turned;
        }

        return value;
    }

    /// <summary>Numbers with two neighbouring digits of a three-digit display exchanged: 137 gives 317 and 173, 61 gives 601 and 16.</summary>
    public static IEnumerable<int> Swapped(int address)
    {
        char[] digits = address.ToString("000", CultureInfo.InvariantCulture).ToCharArray();
        for (int i = 0; i + 1 < digits.Length; i++)
        {
            if (digits[i] != digits[i + 1])
            {
                (digits[i], digits[i + 1]) = (digits[i + 1], digits[i]);
                yield return int.Parse(digits, CultureInfo.InvariantCulture);
                (digits[i], digits[i + 1]) = (digits[i + 1], digits[i]);
            }
        }
    }

    /// <summary>Numbers of as many digits that differ in one digit.</summary>
    public static IEnumerable<int> OneDigitOff(int address)
    {
        string text = address.ToString(CultureInfo.InvariantCulture);
        for (int place = 0, weight = 1; place < text.Length; place++, weight *= 10)
        {
            int digit = address / weight % 10;
            for (int other = 0; other < 10; other++)
            {
                // A leading zero would be a digit left out, which is another error.
                if (other != digit && !(other == 0 && place == text.Length - 1))
                {
                    yield return address + ((other - digit) * weight);
                }
            }
        }
    }

    private static int Turned(char digit) => digit switch
    {
        '0' => 0,
        '1' => 1,
        '2' => 2,
        '5' => 5,
        '8' => 8,
        '6' => 9,
        '9' => 6,
        _ => -1,
    };
}
