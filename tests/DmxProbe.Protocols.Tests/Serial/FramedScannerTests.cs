using DmxProbe.Protocols.Serial;
using DmxProbe.Testing.Files;
using DmxProbe.Testing.Measuring;
using DmxProbe.Testing.Serial;

namespace DmxProbe.Protocols.Tests.Serial;

public class FramedScannerTests
{
    private const int Longest = 600;

    [Fact]
    public void A_recorded_stream_is_read_byte_for_byte()
    {
        // Made by an independent driver (captures/serial, shared/captures/PROVENANCE.md): 84 messages of label 6, 513 octets each.
        byte[] octets = File.ReadAllBytes(Path.Combine(Places.Repository, "captures", "serial", "framed7e.bin"));
        List<(byte Label, byte[] Payload)> found = Scan(octets, out long skipped);
        Assert.Equal(84, found.Count);
        Assert.All(found, message => Assert.Equal((6, 513), (message.Label, message.Payload.Length)));
        Assert.Equal(0, skipped);
        Assert.Equal(octets, found.SelectMany(message => SerialOctets.Framed(message.Label, message.Payload)));
    }

    [Fact]
    public void A_message_cut_at_any_length_never_costs_the_next_one()
    {
        // Of one size, as an interface sends them, and full of octets that could end a message.
        byte[] slots = [.. Enumerable.Range(0, 60).Select(i => i % 3 == 0 ? (byte)0x7E : (byte)0xE7)];
        slots[1] = 1;
        for (int i = 1; i < slots.Length; i++)
        {
            slots[i] = slots[i] == 0x7E && slots[i - 1] == 0xE7 ? (byte)i : slots[i];
        }

        byte[] next = SerialOctets.Received(0, slots);
        for (int length = 0; length < next.Length; length++)
        {
            List<(byte Label, byte[] Payload)> found = Scan([.. next.AsSpan(0, length), .. next, .. next, .. next, 0x7E], out long skipped);
            Assert.True(found.Count == 3, $"cut at {length}: {found.Count} messages");
            Assert.All(found, message => Assert.Equal(next[4..^1], message.Payload));
            Assert.Equal(length, skipped);
        }
    }

    [Fact]
    public void A_cut_message_that_seems_to_end_inside_the_next_one_is_not_taken_for_one()
    {
        // The first is cut after 20 octets of slots; in the second an E7 stands where the first should have ended.
        byte[] slots = new byte[100];
        byte[] cut = SerialOctets.Received(0, slots)[..26];
        slots.AsSpan(70).Fill(0xE7);
        byte[] next = SerialOctets.Received(0, slots);
        List<(byte Label, byte[] Payload)> found = Scan([.. cut, .. next, .. next, 0x7E], out long skipped);
        Assert.Equal(2, found.Count);
        Assert.All(found, message => Assert.Equal(next[4..^1], message.Payload));
        Assert.Equal(cut.Length, skipped);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(601)]
    [InlineData(65535)]
    [InlineData(3)]
    public void A_length_that_lies_costs_only_its_own_message(int lie)
    {
        byte[] liar = SerialOctets.Received(0, 1, 2, 3, 4, 5, 6, 7, 8);
        (liar[2], liar[3]) = ((byte)(lie & 0xFF), (byte)(lie >> 8));
        byte[] good = SerialOctets.Received(0, 9, 8, 7);
        List<(byte Label, byte[] Payload)> found = Scan([.. liar, .. good, .. good], out _);
        Assert.Equal(2, found.Count(message => message.Payload.AsSpan().SequenceEqual(good.AsSpan(4, 5))));
    }

    [Fact]
    public void Garbage_before_between_and_after_is_counted()
    {
        byte[] good = SerialOctets.Received(0, 1, 2);
        Scan([1, 2, 3, .. good, 4, 5, .. good, 0xE7], out long skipped);
        Assert.Equal(6, skipped);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void What_is_found_does_not_depend_on_chunks_and_noise_is_safe(int seed)
    {
        Random random = new(seed);
        for (int round = 0; round < 200; round++)
        {
            List<byte> octets = [];
            for (int part = random.Next(20); part > 0; part--)
            {
                byte[] payload = new byte[random.Next(60)];
                random.NextBytes(payload);
                byte[] whole = SerialOctets.Framed(random.Next(4), payload);
                octets.AddRange(random.Next(3) switch
                {
                    0 => whole[..random.Next(whole.Length)],
                    1 => payload.Select(octet => octet < 128 ? (byte)0x7E : octet),
                    _ => whole,
                });
            }

            List<(byte Label, byte[] Payload)> atOnce = Scan([.. octets], out long skipped);
            FramedScanner scanner = new(Longest);
            int count = 0;
            foreach (byte octet in octets)
            {
                scanner.Add(octet);
                while (scanner.TryTake(out FramedMessage message))
                {
                    Assert.Equal(atOnce[count].Payload, message.Payload.ToArray());
                    count++;
                }
            }

            Assert.Equal(atOnce.Count, count);
            Assert.Equal(octets.Count, skipped + scanner.Pending + atOnce.Sum(message => message.Payload.Length + 5));
        }
    }

    [Fact]
    public void A_scanner_whose_messages_nobody_takes_stays_bounded()
    {
        FramedScanner scanner = new(10);
        for (int i = 0; i < 10_000; i++)
        {
            scanner.Add(0x7E);
        }

        Assert.InRange(scanner.Pending, 0, 64);
    }

    [Fact]
    public void No_message_allocates()
    {
        byte[] good = SerialOctets.Received(0, new byte[512]);
        FramedScanner scanner = new(Longest);
        int found = 0;
        Assert.Equal(0, Allocations.Least(() =>
        {
            for (int i = 0; i < 50; i++)
            {
                foreach (byte octet in good)
                {
                    scanner.Add(octet);
                    found += scanner.TryTake(out _) ? 1 : 0;
                }
            }
        }));
        Assert.True(found >= 50);
    }

    private static List<(byte Label, byte[] Payload)> Scan(byte[] octets, out long skipped)
    {
        FramedScanner scanner = new(Longest);
        List<(byte, byte[])> found = [];
        foreach (byte octet in octets)
        {
            scanner.Add(octet);
            while (scanner.TryTake(out FramedMessage message))
            {
                found.Add((message.Label, message.Payload.ToArray()));
            }
        }

        skipped = scanner.Skipped;
        return found;
    }
}
