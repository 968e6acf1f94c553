using System.Buffers.Binary;
using DmxProbe.Testing.Network;
using DmxProbe.Testing.Network.Packets;

namespace DmxProbe.Analysis.Tests.Simulation;

public class BenchmarkCaptureTests
{
    private const int Record = 16 + 14 + 20 + 8 + 638;

    [Theory]
    [InlineData(true, 0xA1B23C4D)]
    [InlineData(false, 0xA1B2C3D4)]
    public void It_is_a_classic_pcap_of_whole_rounds(bool nanoseconds, uint magic)
    {
        byte[] file = Write(universes: 20, megabytes: 2, nanoseconds, out long packets);

        Assert.Equal(magic, BinaryPrimitives.ReadUInt32LittleEndian(file));
        Assert.Equal(24 + (packets * Record), file.Length);
        Assert.Equal(0, packets % 20);
        Assert.True(file.Length >= 2_000_000);
    }

    [Fact]
    public void Each_frame_is_what_the_builders_give_for_its_slots()
    {
        byte[] file = Write(universes: 6, megabytes: 1, true, out long packets);

        for (int i = 0; i < packets; i += 7)
        {
            ReadOnlySpan<byte> frame = file.AsSpan(24 + (i * Record) + 16, Record - 16);
            ReadOnlySpan<byte> payload = frame[42..];
            int universe = (i % 6) + 1;
            string number = ((i % 6 % 4) + 1).ToString(System.Globalization.CultureInfo.InvariantCulture);
            Host host = Host.At("sender " + number, "10.30.0." + number);
            byte[] expected = UdpFrames.Build(
                UdpPath.ToSacnGroup(host, universe),
                SacnPackets.Data(payload[22..38], host.Name, universe, (universe + 1 + (i / 6)) & 0xFF, payload[126..]));
            Assert.Equal(expected, frame.ToArray());
        }
    }

    [Fact]
    public void A_third_of_the_frames_change_in_about_thirty_percent_of_their_slots()
    {
        byte[] file = Write(universes: 10, megabytes: 4, true, out long packets);

        int changed = 0;
        double slots = 0;
        for (int i = 10; i < packets; i++)
        {
            ReadOnlySpan<byte> now = file.AsSpan(24 + (i * Record) + Record - 512, 512);
            ReadOnlySpan<byte> before = file.AsSpan(24 + ((i - 10) * Record) + Record - 512, 512);
            int different = 0;
            for (int s = 0; s < 512; s++)
            {
                different += now[s] != before[s] ? 1 : 0;
            }

            changed += different > 0 ? 1 : 0;
            slots += different;
        }

        Assert.InRange((double)changed / (packets - 10), 0.31, 0.36);
        Assert.InRange(slots / changed / 512, 0.28, 0.33);
    }

    private static byte[] Write(int universes, int megabytes, bool nanoseconds, out long packets)
    {
        using MemoryStream stream = new();
        packets = BenchmarkCapture.Write(stream, universes, megabytes, nanoseconds: nanoseconds);
        return stream.ToArray();
    }
}
