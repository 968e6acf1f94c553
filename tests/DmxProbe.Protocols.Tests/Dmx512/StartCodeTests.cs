using DmxProbe.Protocols.Dmx512;

namespace DmxProbe.Protocols.Tests.Dmx512;

// Numbers from libraries and dissectors that cite ANSI E1.11; the standard's text itself was not at hand.
public class StartCodeTests
{
    [Theory]
    [InlineData(0x00, "00h levels")]
    [InlineData(0x17, "17h ASCII text")]
    [InlineData(0x55, "55h test packet")]
    [InlineData(0x90, "90h UTF-8 text")]
    [InlineData(0x91, "91h manufacturer's own")]
    [InlineData(0xCC, "CCh RDM")]
    [InlineData(0xCF, "CFh system information")]
    [InlineData(0xDD, "DDh priority of each slot")]
    [InlineData(0xF0, "F0h experimental")]
    [InlineData(0xF7, "F7h experimental")]
    [InlineData(0x92, "92h reserved")]
    [InlineData(0xCD, "CDh reserved")]
    [InlineData(0x42, "42h registered to a manufacturer or unknown")]
    public void A_start_code_has_a_name_with_its_number(byte code, string name) => Assert.Equal(name, StartCode.Name(code));

    [Fact]
    public void The_reserved_codes_leave_out_those_in_use()
    {
        byte[] reserved = [.. Enumerable.Range(0, 256).Select(code => (byte)code).Where(StartCode.IsReserved)];

        Assert.Equal(0xA9 - 0x92 + 1 + 0xCB - 0xAB + 1 + 1, reserved.Length);
        Assert.DoesNotContain((byte)0xAA, reserved);
        Assert.DoesNotContain(StartCode.Rdm, reserved);
        Assert.DoesNotContain((byte)0xCE, reserved);
    }
}
