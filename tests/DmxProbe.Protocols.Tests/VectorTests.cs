using System.Globalization;
using System.Text.RegularExpressions;

namespace DmxProbe.Protocols.Tests;

/// <summary>
/// The packets octet by octet, written out field by field from the layouts of E1.31-2018 (Tables 4-1 to 4-3, B-13, B-14) and
/// Art-Net 4 (document 1.4dn); in brackets: so many zero octets. Which values are the standard's own: Vectors/PROVENANCE.md.
/// </summary>
public partial class VectorTests
{
    private const string Acn = "00100000 4153432d45312e3137000000 ";
    private const string Cid = " ef07c8dd00644401a3a2459ef8e6143e ";
    private const string Name = " 536f757263655f41[56] ";

    [Theory]
    [InlineData("sacn_full.bin", 638, Acn + "726e 00000004" + Cid + "7258 00000002" + Name + "64 1f1a 9a 00 0001 720b 02 a1 0000 0001 0201 00 [512]")]
    [InlineData("sacn_term.bin", 638, Acn + "726e 00000004" + Cid + "7258 00000002" + Name + "64 0000 02 40 0001 720b 02 a1 0000 0001 0201 00 [512]")]
    [InlineData("sacn_3.bin", 129, Acn + "7071 00000004" + Cid + "705b 00000002" + Name + "64 0000 01 00 0001 700e 02 a1 0000 0001 0004 00 ff8001")]
    [InlineData("sacn_dd.bin", 129, Acn + "7071 00000004" + Cid + "705b 00000002" + Name + "64 0000 03 00 0001 700e 02 a1 0000 0001 0004 dd 6400c8")]
    [InlineData("sacn_sync.bin", 49, Acn + "7021 00000008" + Cid + "700b 00000001 6f 1f1a 0000")]
    [InlineData("sacn_disc.bin", 126, Acn + "706e 00000008" + Cid + "7058 00000002" + Name + "00000000 700e 00000001 00 00 0001 0002 1f1a")]
    [InlineData("sacn_disc0.bin", 120, Acn + "7068 00000008" + Cid + "7052 00000002" + Name + "00000000 7008 00000001 00 00")]
    [InlineData("sacn_draft.bin", 98, Acn + "7052 00000003" + Cid + "703c 00000002 536f757263655f41[24] 64 09 0001 7012 02 a1 0000 0001 0008 0102030405060708")]
    [InlineData("artdmx.bin", 22, "4172742d4e657400 0050 000e 05 01 23 01 0004 ff804000")]
    [InlineData("artnzs.bin", 23, "4172742d4e657400 0051 000e 06 17 23 01 0005 0000486900")]
    [InlineData("artpoll14.bin", 14, "4172742d4e657400 0020 000e 02 10")]
    [InlineData("artpoll22.bin", 22, "4172742d4e657400 0020 000e 02 10 [8]")]
    [InlineData("artsync.bin", 14, "4172742d4e657400 0052 000e 0000")]
    [InlineData(
        "artpollreply.bin",
        239,
        "4172742d4e657400 0021 c000020a 3619 0102 01 02 1234 00 d2 f07f 506f7274206f6e65[10] 4c6f6e67206e616d65206f66206e6f6465[47]"
        + "2330303031205b303034325d206f6b[49] 0001 80000000 [4] 80000000 [4] 03000000 64 [5] 00 020000000001 c000020a 01 08"
        + "c0000000 00 [6] 0000 002c 00 [10]")]
    public void A_packet_has_the_octets_of_its_layout(string file, int length, string fields)
    {
        byte[] expected = Vector.Hex(Zeros().Replace(
            fields, match => new string('0', 2 * int.Parse(match.Groups[1].ValueSpan, CultureInfo.InvariantCulture))));

        Assert.Equal(length, expected.Length);
        Assert.Equal(expected, Vector.Read(file));
    }

    [GeneratedRegex(@"\[(\d+)\]")]
    private static partial Regex Zeros();
}
