using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;
using DmxProbe.Testing.Files;

namespace DmxProbe.Analysis.Tests.Decoding;

/// <summary>
/// Every frame of every recording against what a general dissector (tshark 4.0.17) read in it. Where the recordings come
/// from: PROVENANCE.md beside them. It gives no slots for the packet whose Length lies and for the 110 packets of 3 slots:
/// those are checked by their place in the record, in the tests of their recordings.
/// </summary>
public class RecordedCapturesTests
{
    private const int ArtDmxMaximum = 512;

    [SkippableTheory]
    [InlineData("gen_artnet_any_sll2.pcap", 169, 169, 169)]
    [InlineData("gen_artnet_artnetlib_partial.pcap", 325, 324, 323)]
    [InlineData("gen_artnet_dmxnet_poll.pcap", 549, 507, 507)]
    [InlineData("gen_artnet_loopback.pcap", 61, 61, 61)]
    [InlineData("gen_artnet_vlan20_qinq.pcap", 60, 60, 60)]
    [InlineData("gen_sacn_two_sources_terminate.pcap", 812, 812, 812)]
    [InlineData("real_sacn_data_sync_discovery_4pk.pcapng", 4, 2, 2)]
    [InlineData("real_sacn_loopback_null_u1.pcapng", 110, 110, 0)]
    public void Every_frame_reads_as_an_independent_dissector_read_it(
        string capture, int packets, int frames, int framesWithSlots)
    {
        string? path = Places.SharedFile("captures", "net", capture);
        string? reference = DissectorReference.PathOf(capture);
        Skip.If(path is null || reference is null, Places.NoShared);

        FrameCollector read = FrameCollector.OfFile(path);
        (IReadOnlyList<DissectedFrame> expected, int listed) = DissectorReference.Read(reference);

        Assert.Equal(
            (packets, frames, framesWithSlots),
            (listed, expected.Count, expected.Count(frame => frame.Slots is not null)));
        Assert.Equal(packets, read.Decoder.CountsOf(0).Records);
        Assert.Equal(frames, read.Frames.Count);
        for (int i = 0; i < frames; i++)
        {
            AssertSame(expected[i], read.Frames[i], read.Decoder);
        }
    }

    // Where a packet went is not what the reference holds; SendingPathTests has it.
    private const FrameFlags PathFlags = FrameFlags.Unicast | FrameFlags.Broadcast | FrameFlags.OtherPort;

    private static void AssertSame(DissectedFrame expected, CollectedFrame read, RecordDecoder decoder)
    {
        SenderSummary sender = decoder.Senders.Describe(read.Sender);
        bool isSacn = expected.Universe.Protocol == UniverseProtocol.Sacn;
        Assert.Equal(
            (expected.Record, expected.Time, expected.Universe, expected.Sequence, expected.Address),
            (read.Record, read.Time, read.Universe, (int)read.Sequence, sender.Address));
        Assert.Equal(
            (expected.Priority ?? 100, expected.SyncAddress ?? 0, expected.Cid ?? "", expected.Physical ?? -1),
            ((int)read.Priority, (int)read.SyncAddress, sender.Cid, sender.Physical));
        Assert.Equal(0, read.StartCode);
        Assert.Equal(Flags(expected), read.Flags & ~PathFlags);
        Assert.Equal(Math.Min(expected.StatedSlots, ArtDmxMaximum), read.Slots.Length);
        Assert.True(!isSacn || expected.Name == sender.Name, $"name {sender.Name}, expected {expected.Name}");
        if (expected.Slots is not null)
        {
            Assert.Equal(expected.Slots, read.Slots);
        }
    }

    // Options bits: E1.31-2018 section 6.2.6. An Art-Net sequence of 0 is not counted (Art-Net 4, 1.4dn, page 74).
    private static FrameFlags Flags(DissectedFrame expected)
    {
        bool counted = expected.Universe.Protocol == UniverseProtocol.Sacn || expected.Sequence != 0;
        return (counted ? FrameFlags.SequenceCounted : FrameFlags.None)
            | ((expected.Options & 0x80) != 0 ? FrameFlags.Preview : FrameFlags.None)
            | ((expected.Options & 0x40) != 0 ? FrameFlags.Terminated : FrameFlags.None)
            | ((expected.Options & 0x20) != 0 ? FrameFlags.ForceSynchronization : FrameFlags.None);
    }
}
