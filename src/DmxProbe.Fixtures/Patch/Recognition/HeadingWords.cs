using System.Text;

namespace DmxProbe.Fixtures.Patch.Recognition;

/// <summary>The words that head the columns of patch sheets (common practice, no source; English, and the usual German and French).</summary>
internal static class HeadingWords
{
    /// <summary>Our own names: they decide whatever the cells hold.</summary>
    public const int Ours = 5;

    /// <summary>A word that means one thing.</summary>
    public const int Strong = 3;

    /// <summary>A word that may mean several things: the cells must agree.</summary>
    public const int Weak = 1;

    private static readonly Dictionary<PatchColumn, (string[] Strong, string[] Weak)> Words = new()
    {
        [PatchColumn.Unit] = (["UNIT", "UNITS", "UNIT NO", "UNIT NUMBER", "UNIT NAME", "UNIT ID", "FIXTURE ID", "FIXTURE NO", "FIXTURE NUMBER", "FIXTURE NAME", "FID", "FIX NO", "GERAET NR", "GERAETENUMMER", "NUMMER", "NUMERO", "NO PROJECTEUR"],
            ["FIXTURE", "FIX", "NAME", "ID", "NO", "NR", "NUMBER", "CHANNEL", "CHAN", "CH", "CONTROL CHANNEL", "LABEL", "KANAL", "CIRCUIT NAME", "HEAD", "GERAET"]),
        [PatchColumn.Type] = (["TYPE", "FIXTURE TYPE", "INSTRUMENT TYPE", "INSTRUMENT", "MODEL", "FIXTURE MODEL", "LUMINAIRE", "DEVICE TYPE", "DEVICE", "TYP", "GERAETETYP", "LANTERN", "APPAREIL", "MODELE"],
            ["FIXTURE", "FIX", "GERAET", "LAMP", "PROJECTEUR", "KIND", "DESCRIPTION"]),
        [PatchColumn.Mode] = (["MODE", "DMX MODE", "PERSONALITY", "FIXTURE MODE", "MODUS", "BETRIEBSART"], ["PROFILE", "DMX PROFILE", "CH MODE", "CHANNEL MODE"]),
        [PatchColumn.Universe] = (["UNIVERSE", "UNIV", "UNI", "DMX UNIVERSE", "UNIVERSUM", "UNIVERS", "UNIVERSE NO", "UNIVERSE NUMBER"], ["U", "LINE", "DMX LINE", "PORT", "OUTPUT"]),
        [PatchColumn.Address] = (["ADDRESS", "ADDR", "DMX ADDRESS", "DMX ADDR", "START ADDRESS", "DMX START", "DMX START ADDRESS", "START ADDR", "UNIV ADDR", "U ADDR", "UNIVERSE ADDRESS", "PATCH ADDRESS", "ADRESSE", "STARTADRESSE", "DMX ADRESSE", "ADRESSE DMX"],
            ["DMX", "PATCH", "START", "CHANNEL", "CHAN", "CH", "DMX CHANNEL", "DMX CH", "SLOT", "START SLOT", "START CHANNEL", "DIMMER", "KANAL", "DMX KANAL", "SLOTS", "CANAL"]),
        [PatchColumn.Position] = (["POSITION", "POS", "LOCATION", "HANGING POSITION", "HUNG ON", "STANDORT", "EMPLACEMENT", "ORT"], ["HANG", "TRUSS", "BAR", "PLACE", "WHERE", "PIPE"]),
        [PatchColumn.Chain] = (["CHAIN", "CABLE CHAIN", "DMX CHAIN", "DAISY CHAIN", "DATA CHAIN", "DATA LINE", "DATA RUN"], ["CABLE", "RUN", "LOOM", "DATA", "LINIE"]),
        [PatchColumn.Order] = (["ORDER", "CHAIN ORDER", "CHAIN POSITION", "CHAIN POS", "IN CHAIN", "NO IN CHAIN", "PLACE IN CHAIN"], ["SEQ", "SEQUENCE"]),
        [PatchColumn.Circuit] = (["CIRCUIT", "CIRC", "CCT", "MAINS CIRCUIT", "POWER CIRCUIT", "STROMKREIS", "CIRCUIT NO"], ["POWER", "MAINS", "BREAKER", "STROM", "DIMMER"]),
        [PatchColumn.SharesWith] = (["SHARESWITH", "SHARES WITH", "SHARED WITH", "SHARES", "SAME ADDRESS AS", "SAME AS", "TWIN", "TWIN OF", "PAIRED WITH"], ["SHARED"]),
        [PatchColumn.Wireless] = (["WIRELESS", "WIRELESS GROUP", "RADIO", "RADIO GROUP", "RADIO LINK", "WIRELESS DMX", "FUNK", "FUNKGRUPPE"], ["RECEIVER"]),
        [PatchColumn.Footprint] = (["FOOTPRINT", "CHANNEL COUNT", "CH COUNT", "SLOT COUNT", "NO OF CHANNELS", "NUMBER OF CHANNELS", "NO OF SLOTS", "DMX CHANNELS", "DMX CHS", "DMX FOOTPRINT", "KANAELE"], ["CHANNELS", "CHS", "SLOTS", "SIZE", "COUNT"]),
        [PatchColumn.Function] = (["FUNCTION", "ATTRIBUTE", "PARAMETER", "SLOT FUNCTION", "FUNKTION"], []),
        [PatchColumn.Note] = (["NOTE", "NOTES", "REMARK", "REMARKS", "COMMENT", "COMMENTS", "PURPOSE", "BEMERKUNG", "REMARQUE"], ["FOCUS", "USE", "INFO"]),
    };

    /// <summary>How strongly a heading says that its column holds something; 0 when it does not.</summary>
    public static int Weight(PatchColumn column, string heading)
    {
        if (heading.Equals(column.ToString(), StringComparison.OrdinalIgnoreCase))
        {
            return Ours;
        }

        string words = Plain(heading);
        (string[] strong, string[] weak) = Words[column];
        return words.Length == 0 ? (column == PatchColumn.Unit && heading == "#" ? Weak : 0)
            : strong.Contains(words, StringComparer.Ordinal) ? Strong
            : weak.Contains(words, StringComparer.Ordinal) ? Weak : 0;
    }

    /// <summary>Whether a heading is any of the words.</summary>
    public static int Weight(string heading) => Words.Keys.Max(column => Weight(column, heading));

    /// <summary>Upper case, umlauts written out, everything but letters and digits a single space.</summary>
    private static string Plain(string heading)
    {
        StringBuilder plain = new();
        foreach (char c in heading.Length > 60 ? "" : heading.ToUpperInvariant())
        {
            _ = c switch
            {
                'Ä' => plain.Append("AE"),
                'Ö' => plain.Append("OE"),
                'Ü' => plain.Append("UE"),
                'È' or 'É' or 'Ê' => plain.Append('E'),
                _ when char.IsLetterOrDigit(c) => plain.Append(c),
                _ when plain.Length > 0 && plain[^1] != ' ' => plain.Append(' '),
                _ => plain,
            };
        }

        return plain.ToString().TrimEnd();
    }
}
