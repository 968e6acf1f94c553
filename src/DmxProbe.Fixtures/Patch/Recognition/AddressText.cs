using System.Globalization;
using System.Text.RegularExpressions;

namespace DmxProbe.Fixtures.Patch.Recognition;

/// <summary>
/// What the cell of an address says, before the sheet as a whole has decided what its dashes and decimals mean
/// (spellings: common practice, no source).
/// </summary>
/// <param name="Universe">Universe in the cell as text: digits, one letter, or net:sub:universe; empty when it has none.</param>
/// <param name="Separator">What stands between universe and address; a blank after a letter.</param>
/// <param name="Address">First slot, or for a bare dash pair the second number.</param>
/// <param name="Digits">How many digits the address was written with.</param>
/// <param name="Last">Last slot of a range; 0 when there is none.</param>
internal readonly partial record struct AddressText(string Universe, char Separator, int Address, int Digits, int Last)
{
    /// <summary>A pair that may as well be a range: <c>1-16</c>.</summary>
    public bool IsDashPair => Separator == '-' && Last == 0 && Universe.Length > 0 && char.IsAsciiDigit(Universe[0]) && !Universe.Contains(':', StringComparison.Ordinal);

    /// <summary>Whether a cell is one of the words for an address that is not known yet.</summary>
    public static bool IsOpen(string cell) => OpenWord().IsMatch(cell);

    /// <summary>Whether a cell looks as if a spreadsheet had made a date of an address.</summary>
    public static bool IsDate(string cell) => DateLike().IsMatch(cell);

    /// <summary>Reads a cell; false when it is no spelling of an address.</summary>
    public static bool TryParse(string cell, out AddressText address)
    {
        address = default;
        if (cell.Length is 0 or > 40)
        {
            return false;
        }

        Match match = Spelling().Match(cell);
        if (!match.Success || !Number(match.Groups["a"].ValueSpan, out int first) || !Number(match.Groups["b"].ValueSpan, out int last))
        {
            return false;
        }

        string universe = match.Groups["u"].Value.ToUpperInvariant().Replace(" ", "", StringComparison.Ordinal);
        char separator = match.Groups["s"].Value.Trim() is { Length: > 0 } text ? text[0] : ' ';
        separator = separator == '–' ? '-' : separator;
        if (separator is '.' or ',' && first == 0 && last == 0 && universe.Length > 0 && char.IsAsciiDigit(universe[0]) && Number(universe, out int whole))
        {
            // A spreadsheet that shows whole numbers with decimals: 121.0
            address = new AddressText("", ' ', whole, universe.Length, 0);
            return true;
        }

        address = new AddressText(universe, separator, first, match.Groups["a"].Length, last);
        return true;
    }

    private static bool Number(ReadOnlySpan<char> digits, out int value)
    {
        value = 0;
        return digits.Length == 0 || int.TryParse(digits, NumberStyles.None, CultureInfo.InvariantCulture, out value);
    }

    [GeneratedRegex(@"^(?:(?:U|UNI|UNIV|UNIVERSE|DMX)?\.?\s*(?<u>[0-9]{1,3}\s*:\s*[0-9]{1,2}\s*:\s*[0-9]{1,2}|[0-9]{1,5}|[A-Z](?=\s*[./:,@\-–0-9 ]))\s*(?:(?<s>[./:,@\-–])\s*|(?<=[A-Z]\s*)|\s+(?=\D)))?(?:DMX|ADDR|ADDRESS|ADR|CH|CHAN|SLOT|A)?\.?\s*#?(?<a>[0-9]{1,6})(?:\s*(?:-|–|TO|\.\.\.?)\s*(?<b>[0-9]{1,6}))?$", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex Spelling();

    [GeneratedRegex(@"^(?:-+|–|—|\?+|TBC|TBA|TBD|N\s*/?\s*A|NONE|NIL)$", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex OpenWord();

    [GeneratedRegex(@"^(?:[0-9]{1,2}[-. ](?:JAN|FEB|MAR|APR|MAY|MAI|JUN|JUL|AUG|SEP|OCT|OKT|NOV|DEC|DEZ)[A-Z]*(?:[-. ][0-9]{2,4})?|(?:JAN|FEB|MAR|APR|MAY|MAI|JUN|JUL|AUG|SEP|OCT|OKT|NOV|DEC|DEZ)[A-Z]*[-. ][0-9]{2,4}|[0-9]{4}-[0-9][0-9]-[0-9][0-9].*|[0-9]{1,2}[./][0-9]{1,2}[./](?:19|20)[0-9][0-9])$", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex DateLike();
}
