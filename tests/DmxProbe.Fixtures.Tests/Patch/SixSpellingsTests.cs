using System.Globalization;
using System.Text;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Testing.Spreadsheets;

namespace DmxProbe.Fixtures.Tests.Patch;

/// <summary>One patch of 3,000 units as six people keep it.</summary>
public sealed class SixSpellingsTests
{
    private static readonly PatchUnit[] Units = [.. Enumerable.Range(0, 3000).Select(Unit)];

    [Theory]
    [InlineData("as we write it ourselves")]
    [InlineData("semicolons, Windows-1252, a title, German headings, universe and address in one cell")]
    [InlineData("tabs, UTF-16, letters for universes")]
    [InlineData("pipes, absolute addresses, headings repeated, mode behind the type")]
    [InlineData("xlsx, merged cells, formulas, ranges")]
    [InlineData("Net:Sub-Net:Universe, a line for each slot, positions as section titles")]
    public void One_patch_of_3000_rows_is_read_to_the_same_units(string spelling)
    {
        byte[] file = spelling[0] switch
        {
            'a' => Encoding.UTF8.GetBytes(Ours()),
            's' => CodePagesEncodingProvider.Instance.GetEncoding(1252)!.GetBytes(German()),
            't' => [0xFF, 0xFE, .. Encoding.Unicode.GetBytes(Letters())],
            'p' => [0xEF, 0xBB, 0xBF, .. Encoding.UTF8.GetBytes(Absolute())],
            'x' => Workbook(),
            _ => Encoding.UTF8.GetBytes(SlotBySlot()),
        };
        using MemoryStream stream = new(file, writable: false);
        PatchReading reading = PatchReader.Read(stream, spelling[0] == 'N' ? new PatchReadOptions { UniverseBase = 1 } : null);
        Assert.Empty(reading.Problems);
        Assert.Equal(Units.Select(Shape), reading.Sheet!.Units.Select(Shape));
        Assert.All(reading.Sheet.Units, unit => Assert.Contains(unit.StatedFootprint, new[] { 0, 10 }));
    }

    private static (string Unit, string Type, string Mode, int Universe, int Address, string Position) Shape(PatchUnit unit) =>
        (unit.Unit, unit.Type, unit.Mode, unit.Universe, unit.Address, unit.Position);

    // 24 universes, so that letters suffice; the units overlap, which is for the check to say, not for the reader.
    private static PatchUnit Unit(int i)
    {
        int universe = 1 + (i / 125), place = i % 125;
        return new PatchUnit($"U{i + 1}", place % 2 == 0 ? "Wäsche wash" : "spot", "10-slot", universe, 1 + (place * 4), $"Brücke {1 + (i / 500)}", "", "", [], "", 0);
    }

    private static string Ours() => "unit,type,mode,universe,address,position\n" +
        string.Concat(Units.Select(unit => string.Create(CultureInfo.InvariantCulture, $"{unit.Unit},{unit.Type},{unit.Mode},{unit.Universe},{unit.Address},{unit.Position}\n")));

    private static string German() => "Patchliste Große Halle;;;;\r\nStand: heute, 3 Brücken;;;;\r\n\r\nGerätetyp;Modus;Standort;DMX-Adresse;Gerätenummer\r\n" +
        string.Concat(Units.Select(unit => string.Create(CultureInfo.InvariantCulture, $"{unit.Type};{unit.Mode};{unit.Position};{unit.Universe},{unit.Address:000};{unit.Unit}\r\n")));

    private static string Letters() => "Fixture ID\tInstrument Type\tPersonality\tDMX\tLocation\n" +
        string.Concat(Units.Select(unit => string.Create(CultureInfo.InvariantCulture, $"{unit.Unit}\t{unit.Type}\t{unit.Mode}\t{(char)('A' + unit.Universe - 1)}{unit.Address}\t{unit.Position}\n")));

    private static string Absolute() => string.Concat(Units.Select((unit, i) => (i % 40 == 0 ? "Unit|Fixture|Start address|Position\n" : "") + string.Create(CultureInfo.InvariantCulture,
        $"{unit.Unit}|{unit.Type} ({unit.Mode})|{((unit.Universe - 1) * 512) + unit.Address}|{unit.Position}\n")));

    private static byte[] Workbook()
    {
        WorkbookBytes book = new();
        List<string?[]> rows = [[book.Text("The Glass Orchard")], [], [book.Text("Pos"), book.Text("Univ"), book.Text("Unit"), book.Text("Model"), book.Text("Mode"), book.Text("Addr"), book.Text("check")]];
        List<string> merges = [];
        for (int i = 0; i < Units.Length; i++)
        {
            PatchUnit unit = Units[i];
            int row = rows.Count + 1;
            rows.Add([
                i % 500 == 0 ? book.Text(unit.Position) : null,
                i % 125 == 0 ? WorkbookBytes.Number(unit.Universe) : null,
                WorkbookBytes.Formula($"\"U\"&ROW()-3", unit.Unit),
                book.Text(unit.Type),
                book.Text(unit.Mode),
                book.Text(string.Create(CultureInfo.InvariantCulture, $"{unit.Address}-{unit.Address + 9}")),
                WorkbookBytes.Formula("1/0", null),
            ]);
            if (i % 500 == 0)
            {
                merges.Add($"A{row}:A{row + 499}");
            }

            if (i % 125 == 0)
            {
                merges.Add($"B{row}:B{row + 124}");
            }
        }

        return book.Texts("Cover", ["The Glass Orchard"], ["Harbour Hall"]).Sheet("Patch", rows, merges).Sheet("Old", [[book.Text("unit"), book.Text("type"), book.Text("address")], [book.Text("A"), book.Text("x"), book.Text("1.1")]], hidden: true).ToBytes();
    }

    private static string SlotBySlot()
    {
        StringBuilder text = new("Unit,Type,Mode,Address,Function\n");
        string position = "";
        foreach (PatchUnit unit in Units)
        {
            if (unit.Position != position)
            {
                text.Append(CultureInfo.InvariantCulture, $"{position = unit.Position},,,,\n");
            }

            int port = unit.Universe - 1;
            for (int slot = 0; slot < 10; slot++)
            {
                text.Append(CultureInfo.InvariantCulture, $"{(slot == 0 ? $"{unit.Unit},{unit.Type},{unit.Mode}" : ",,")},0:{port / 16}:{port % 16}/{unit.Address + slot},function {slot}\n");
            }
        }

        return text.ToString();
    }
}
