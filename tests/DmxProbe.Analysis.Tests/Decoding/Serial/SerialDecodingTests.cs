using System.Text.Json;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Decoding.Line;
using DmxProbe.Protocols.Records;
using DmxProbe.Protocols.Serial;
using DmxProbe.Testing.Files;
using DmxProbe.Testing.Measuring;
using DmxProbe.Testing.Serial;

namespace DmxProbe.Analysis.Tests.Decoding.Serial;

public class SerialDecodingTests
{
    [Fact]
    public void The_recorded_framed_stream_becomes_its_frames_byte_for_byte()
    {
        byte[] octets = Recorded("framed7e.bin");
        FramedOptions options = new() { ReceivedLabel = 6, StatusOctets = 0 };
        SerialRecords records = new(InterfaceContent.SerialFramed);
        foreach ((double time, int length, int at) in Chunks("framed7e.bin"))
        {
            records.Add((long)Math.Round(time * 1e9), SerialOctets.Run(octets.AsSpan(at, length)));
        }

        FrameCollector found = Decode(records, options);
        Assert.Equal(84, found.Frames.Count);
        Assert.Empty(found.Events);
        Assert.Equal(octets, found.Frames.SelectMany(frame => SerialOctets.Framed(6, [frame.StartCode, .. frame.Slots])));
        Assert.Equal("serial A", found.Frames[0].Universe.Label);
        Assert.Equal(530_260_000, found.Frames[0].Time.UnixNanoseconds);
    }

    [Fact]
    public void The_recorded_raw_stream_becomes_its_frames_byte_for_byte()
    {
        // A pty carries no break, so it is put before each packet as a marking port would: 85 packets of 513 octets.
        byte[] octets = Recorded("rawbreak.bin");
        SerialRecords records = new(InterfaceContent.SerialUart);
        MarkedOctets marks = new();
        foreach ((double time, int length, int at) in Chunks("rawbreak.bin"))
        {
            byte[] marked = SerialOctets.Marked(octets[at..(at + length)]);
            byte[] run = new byte[(2 * marked.Length) + 2];
            records.Add((long)Math.Round(time * 1e9), run[..marks.Read(marked, run)]);
        }

        FrameCollector found = Decode(records);
        Assert.Equal(85, found.Frames.Count);
        Assert.Empty(found.Events);
        Assert.Equal(octets, found.Frames.SelectMany(frame => frame.Slots.Prepend(frame.StartCode)));
    }

    // The next break may come a second later: a packet of fewer than 512 slots has its own time, not that of the break.
    [Fact]
    public void A_short_uart_packet_has_the_time_of_its_last_slot()
    {
        SerialRecords records = new SerialRecords(InterfaceContent.SerialUart)
            .Add(1_000, RunOf(InterfaceContent.SerialUart, SerialOctets.Marked(0, 1, 2)))
            .Add(2_000, RunOf(InterfaceContent.SerialUart, [3]))
            .Add(900_000_000, RunOf(InterfaceContent.SerialUart, SerialOctets.Marked(0, 4)))
            .Add(1_800_000_000, RunOf(InterfaceContent.SerialUart, SerialOctets.Marked()));
        Assert.Equal(
            [(2_000L, 2L, 3), (900_000_000L, 3L, 1)],
            Decode(records).Frames.Select(frame => (frame.Time.UnixNanoseconds, frame.Record, frame.Slots.Length)));
    }

    [Fact]
    public void A_uart_packet_whose_start_was_missed_is_no_packet()
    {
        FrameCollector found = Uart([.. new byte[] { 5, 6, 7 }, .. SerialOctets.Marked(0, 1, 2), .. SerialOctets.Marked(0xCC, 3), .. SerialOctets.Marked()]);
        Assert.Equal([(0, 2), (0xCC, 1)], found.Frames.Select(frame => ((int)frame.StartCode, frame.Slots.Length)));
        Assert.Equal(3, Assert.Single(found.Events, each => each.Kind == LinkEventKind.SerialGarbage).A);
    }

    [Fact]
    public void Framing_errors_are_counted_by_slot_and_their_packet_gives_no_levels()
    {
        FrameCollector found = Uart([0xFF, 0, 0, 0, 1, 0xFF, 0, 9, 3, .. SerialOctets.Marked(0, 1, 2, 3), .. SerialOctets.Marked()]);
        LinkEvent error = Assert.Single(found.Events);
        Assert.Equal((LinkEventKind.SlotFramingError, 2L, 9L), (error.Kind, error.A, error.B));
        Assert.Equal([FrameFlags.Damaged, FrameFlags.None], found.Frames.Select(frame => frame.Flags));
    }

    [Fact]
    public void A_packet_of_more_than_512_slots_is_told()
    {
        FrameCollector found = Uart([.. SerialOctets.Marked(new byte[515]), .. SerialOctets.Marked()]);
        Assert.Equal(512, Assert.Single(found.Frames).Slots.Length);
        LinkEvent over = Assert.Single(found.Events);
        Assert.Equal((LinkEventKind.SlotsOver512, 2L), (over.Kind, over.A));
    }

    [Fact]
    public void A_break_with_nothing_behind_it_is_told()
    {
        FrameCollector found = Uart([.. SerialOctets.Marked(), .. SerialOctets.Marked()]);
        Assert.Empty(found.Frames);
        Assert.Equal(LinkEventKind.EmptyBreak, Assert.Single(found.Events).Kind);
    }

    [Fact]
    public void A_packet_in_which_characters_were_lost_is_left_out()
    {
        byte[] run = [1, 0, 0, 0, 0, 1, 4, 2, 0, 3, 1, 0, 0, 0, 0, 9, 1, 0];
        FrameCollector found = Decode(new SerialRecords(InterfaceContent.SerialUart).Add(1, run));
        Assert.Equal([9], Assert.Single(found.Frames).Slots);
        Assert.Equal(2, Assert.Single(found.Events, each => each.Kind == LinkEventKind.SerialOverrun).A);
    }

    [Theory]
    [InlineData(InterfaceContent.SerialFramed)]
    [InlineData(InterfaceContent.SerialUart)]
    public void Nothing_is_put_together_across_an_unplugging(InterfaceContent content)
    {
        byte[] packet = content == InterfaceContent.SerialFramed ? SerialOctets.Received(0, 1, 2, 3, 4) : SerialOctets.Marked(0, 1, 2, 3, 4);
        SerialRecords records = new SerialRecords(content)
            .Add(1, RunOf(content, packet[..7]))
            .Lost(2)
            .Add(3, RunOf(content, packet[7..]))
            .Add(4, RunOf(content, [.. packet, .. content == InterfaceContent.SerialUart ? SerialOctets.Marked() : []]));
        FrameCollector found = Decode(records);
        Assert.Equal([1, 2, 3, 4], Assert.Single(found.Frames).Slots);
        Assert.Contains(found.Events, each => each.Kind == LinkEventKind.CaptureLoss);
    }

    [Fact]
    public void Changes_are_applied_to_the_last_whole_packet()
    {
        FrameCollector found = Framed(
            SerialOctets.Framed(9, 0, 2, 0, 0, 0, 0, 77), // before any packet: the other slots are not known
            SerialOctets.Received(0, 1, 2, 3),
            SerialOctets.Framed(9, 0, 4, 0, 0, 0, 0, 88));
        Assert.Equal(2, found.Frames.Count);
        Assert.Equal([1, 88, 3], found.Frames[1].Slots);
        Assert.Equal(LinkEventKind.ChangeWithoutPacket, Assert.Single(found.Events).Kind);
    }

    [Fact]
    public void Changes_alone_count_from_zero_when_told_so()
    {
        SerialRecords records = new SerialRecords(InterfaceContent.SerialFramed).Add(1, SerialOctets.Run(SerialOctets.Framed(9, 0, 2, 0, 0, 0, 0, 77)));
        FrameCollector found = Decode(records, new FramedOptions { ChangesFromZero = true });
        Assert.Equal((512, 77), (Assert.Single(found.Frames).Slots.Length, found.Frames[0].Slots[0]));
    }

    [Fact]
    public void Messages_without_dmx_and_damage_are_told()
    {
        FrameCollector found = Framed(
            SerialOctets.Framed(3, 1, 2), SerialOctets.Framed(5, 1, 0, 7), SerialOctets.Framed(5), SerialOctets.Framed(9, 1));
        Assert.Equal(FrameFlags.Damaged, Assert.Single(found.Frames).Flags);
        Assert.Equal(
            [LinkEventKind.FramedOther, LinkEventKind.FramedDamage, LinkEventKind.Malformed],
            found.Events.Select(each => each.Kind));
    }

    [Theory]
    [InlineData(InterfaceContent.SerialFramed)]
    [InlineData(InterfaceContent.SerialUart)]
    public void Frames_do_not_depend_on_how_the_octets_were_chunked(InterfaceContent content)
    {
        byte[] run = RunOf(content, Stream(content));
        string expected = Shown(Decode(new SerialRecords(content).Add(1, run)));
        Assert.Contains("20 frames", expected, StringComparison.Ordinal);
        foreach (int pairs in new[] { 1, 2, 3, 5, 8, 64, 513, 1000 })
        {
            SerialRecords records = new(content);
            foreach (byte[] part in run.Chunk(2 * pairs))
            {
                records.Add(1, part);
            }

            Assert.Equal(expected, Shown(Decode(records)));
        }
    }

    [Theory]
    [InlineData(InterfaceContent.SerialFramed)]
    [InlineData(InterfaceContent.SerialUart)]
    public void Every_cut_and_noise_are_safe(InterfaceContent content)
    {
        byte[] run = RunOf(content, Stream(content))[..1500];
        for (int length = 0; length <= run.Length; length++)
        {
            Decode(new SerialRecords(content).Add(1, run[..length]));
        }

        Random random = new(3);
        for (int round = 0; round < 300; round++)
        {
            SerialRecords records = new(content);
            for (int i = random.Next(6); i > 0; i--)
            {
                byte[] noise = new byte[random.Next(900)];
                random.NextBytes(noise);
                records.Add(i, random.Next(2) == 0 ? noise : SerialOctets.Run(noise));
            }

            Assert.All(Decode(records).Frames, frame => Assert.InRange(frame.Slots.Length, 0, 512));
        }
    }

    [Theory]
    [InlineData(InterfaceContent.SerialFramed)]
    [InlineData(InterfaceContent.SerialUart)]
    public void No_message_allocates(InterfaceContent content)
    {
        SerialRecords records = new SerialRecords(content).Add(1, RunOf(content, Stream(content)));
        RecordDecoder decoder = new() { Interfaces = records.Interfaces };
        Counter counter = new();
        Assert.Equal(0, Allocations.Least(() =>
        {
            records.Rewind();
            while (records.Read(out CaptureRecord record) == ReadStatus.Record)
            {
                decoder.Decode(in record, counter);
            }
        }));
        Assert.True(counter.Frames >= 20);
    }

    private static byte[] Stream(InterfaceContent content)
    {
        Random random = new(17);
        List<byte> octets = [];
        for (int i = 0; i < 20; i++)
        {
            byte[] slots = new byte[i % 3 == 0 ? 512 : random.Next(1, 300)];
            random.NextBytes(slots);
            octets.AddRange(content == InterfaceContent.SerialFramed ? SerialOctets.Received(0, slots) : SerialOctets.Marked([0, .. slots]));
        }

        octets.AddRange(content == InterfaceContent.SerialFramed ? [0x7E] : SerialOctets.Marked());
        return [.. octets];
    }

    private static byte[] RunOf(InterfaceContent content, byte[] octets)
    {
        if (content == InterfaceContent.SerialFramed)
        {
            return SerialOctets.Run(octets);
        }

        byte[] run = new byte[(2 * octets.Length) + 2];
        return run[..new MarkedOctets().Read(octets, run)];
    }

    private static FrameCollector Uart(byte[] marked) =>
        Decode(new SerialRecords(InterfaceContent.SerialUart).Add(1, RunOf(InterfaceContent.SerialUart, marked)));

    private static FrameCollector Framed(params byte[][] messages) =>
        Decode(new SerialRecords(InterfaceContent.SerialFramed).Add(1, SerialOctets.Run([.. messages.SelectMany(each => each)])));

    private static FrameCollector Decode(SerialRecords records, FramedOptions? options = null)
    {
        FrameCollector collector = new() { Decoder = new RecordDecoder(LineOptions.Found with { Framed = options ?? FramedOptions.Usual }) { Interfaces = records.Interfaces } };
        while (records.Read(out CaptureRecord record) == ReadStatus.Record)
        {
            collector.Decoder.Decode(in record, collector);
        }

        return collector;
    }

    private static string Shown(FrameCollector found) =>
        $"{found.Frames.Count} frames: "
        + string.Join('\n', found.Frames.Select(frame => $"{frame.StartCode} {frame.Flags} {Convert.ToHexString(frame.Slots)}"));

    private static byte[] Recorded(string name) => File.ReadAllBytes(Path.Combine(Places.Repository, "captures", "serial", name));

    private static IEnumerable<(double Time, int Length, int At)> Chunks(string name)
    {
        using JsonDocument chunks = JsonDocument.Parse(File.ReadAllText(Path.Combine(Places.Repository, "captures", "serial", name + ".chunks.json")));
        int at = 0;
        foreach (JsonElement chunk in chunks.RootElement.EnumerateArray())
        {
            yield return (chunk[0].GetDouble(), chunk[1].GetInt32(), at);
            at += chunk[1].GetInt32();
        }
    }

    private sealed class Counter : IFrameSink
    {
        public int Frames { get; private set; }

        public void OnFrame(in DmxFrame frame) => Frames++;

        public void OnEvent(in LinkEvent linkEvent)
        {
        }
    }
}
