using System.Globalization;

namespace DmxProbe.Protocols.Dmx512;

/// <summary>
/// START codes of DMX512-A and what they are called. Known from libraries and dissectors that cite ANSI E1.11 (2004,
/// 2008 and 2024 editions), not from the standard's own text. Most other numbers are registered to manufacturers.
/// </summary>
public static class StartCode
{
    /// <summary>NULL START code: slots 1 to 512 are levels.</summary>
    public const byte Null = 0x00;

    /// <summary>ASCII text packet: page number, characters per line, text.</summary>
    public const byte AsciiText = 0x17;

    /// <summary>Test packet: all 512 slots are 55h.</summary>
    public const byte Test = 0x55;

    /// <summary>UTF-8 text packet, laid out as <see cref="AsciiText"/>.</summary>
    public const byte Utf8Text = 0x90;

    /// <summary>A two-octet manufacturer ID follows in slots 1 and 2, then what that manufacturer likes.</summary>
    public const byte ManufacturerId = 0x91;

    /// <summary>RDM (ANSI E1.20).</summary>
    public const byte Rdm = 0xCC;

    /// <summary>System information packet.</summary>
    public const byte SystemInformation = 0xCF;

    /// <summary>Registered to one manufacturer; over sACN common practice as priority of each slot.</summary>
    public const byte PerAddressPriority = 0xDD;

    /// <summary>Lowest of the codes for prototypes and experiments.</summary>
    public const byte FirstExperimental = 0xF0;

    /// <summary>Highest of the codes for prototypes and experiments.</summary>
    public const byte LastExperimental = 0xF7;

    /// <summary>Whether the code is kept for prototypes and experiments (F0h to F7h): not in products.</summary>
    public static bool IsExperimental(byte code) => code is >= FirstExperimental and <= LastExperimental;

    /// <summary>Whether the code has a meaning that everybody knows: levels, text, test, manufacturer's ID, RDM, system information, priorities, experiments.</summary>
    public static bool IsInUse(byte code) =>
        code is Null or AsciiText or Test or Utf8Text or ManufacturerId or Rdm or SystemInformation or PerAddressPriority || IsExperimental(code);

    /// <summary>
    /// Whether the code is reserved for the future: 92h to A9h, ABh to CBh, CDh. CEh is reserved according to a source
    /// that cites the 2024 edition and free according to one that cites 2008; it counts as free here.
    /// </summary>
    public static bool IsReserved(byte code) => code is (>= 0x92 and <= 0xA9) or (>= 0xAB and <= 0xCB) or 0xCD;

    /// <summary>What a code is called, with its number: <c>00h levels</c>, <c>CCh RDM</c>.</summary>
    public static string Name(byte code) => string.Create(CultureInfo.InvariantCulture, $"{code:X2}h {Meaning(code)}");

    private static string Meaning(byte code) => code switch
    {
        Null => "levels",
        AsciiText => "ASCII text",
        Test => "test packet",
        Utf8Text => "UTF-8 text",
        ManufacturerId => "manufacturer's own",
        Rdm => "RDM",
        SystemInformation => "system information",
        PerAddressPriority => "priority of each slot",
        _ when IsExperimental(code) => "experimental",
        _ when IsReserved(code) => "reserved",
        _ => "registered to a manufacturer or unknown",
    };
}
