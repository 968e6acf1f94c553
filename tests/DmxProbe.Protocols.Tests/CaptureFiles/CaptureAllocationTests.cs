using DmxProbe.Protocols.CaptureFiles;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.CaptureFiles;

namespace DmxProbe.Protocols.Tests.CaptureFiles;

public sealed class CaptureAllocationTests
{
    [Theory]
    [InlineData("pcap")]
    [InlineData("pcapng")]
    [InlineData("pcapng with options")]
    public void Reading_a_record_allocates_nothing(string kind)
    {
        const int Measured = 100_000;
        const int Rounds = 10;
        using ICaptureSource source = CaptureFileReader.Open(Many(kind, Rounds * Measured), "many");
        long least = long.MaxValue;
        for (int round = 0; round < Rounds; round++)
        {
            long before = GC.GetAllocatedBytesForCurrentThread();
            int count = Count(source, Measured);
            least = Math.Min(least, GC.GetAllocatedBytesForCurrentThread() - before);
            Assert.Equal(Measured, count);
        }

        // The runtime itself allocates once or twice on this thread when it replaces code by faster code.
        Assert.Equal(0, least);
        Assert.Equal(ReadStatus.End, source.Read(out _));
        Assert.Null(source.Problem);
    }

    private static int Count(ICaptureSource source, int most)
    {
        int count = 0;
        while (count < most && source.Read(out CaptureRecord record) == ReadStatus.Record)
        {
            count += record.Data.Length == 60 ? 1 : 0;
        }

        return count;
    }

    private static MemoryStream Many(string kind, int count)
    {
        byte[] data = new byte[60];
        CaptureBytes start = new();
        CaptureBytes each = new();
        _ = kind switch
        {
            "pcap" => (start.PcapHeader(), each.PcapRecord(1, 2, data)),
            "pcapng" => (start.Section().Interface(), each.Enhanced(0, 5, data)),
            _ => (start.Section().Interface(), each.Enhanced(0, 5, data, options: o => o.Option(1, "note"u8).Option(4, 1))),
        };
        byte[] record = each.ToArray();
        MemoryStream stream = new();
        stream.Write(start.ToArray());
        for (int i = 0; i < count; i++)
        {
            stream.Write(record);
        }

        stream.Position = 0;
        return stream;
    }
}
