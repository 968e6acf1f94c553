using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Rdm;
using DmxProbe.Analysis.Survey;
using DmxProbe.Capture.Files;
using DmxProbe.Protocols.ArtNet;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Arbitration;
using DmxProbe.Testing.CaptureFiles;
using DmxProbe.Testing.Files;
using DmxProbe.Testing.Rdm;

namespace DmxProbe.Analysis.Tests.Rdm;

/// <summary>
/// RDM in Art-Net. rdm.pcapng and all.pcapng were constructed from the published layouts (standards-facts D6) and dissected with
/// tshark 4.0.17; what they hold is written out here by hand from those octets.
/// </summary>
public sealed class RdmAnalyzerTests
{
    private static readonly string StageLeft = Path.Combine([Places.Repository, "captures", .. StageLeftRdm.File.Split('/')]);

    [Fact]
    public void The_constructed_answers_are_read_as_their_octets_say()
    {
        RdmSnapshot rdm = Survey(CaptureVectors.PathOf("rdm.pcapng")).Rdm!;
        RdmPort port = Assert.Single(rdm.Ports);
        Assert.Equal((new UniverseId(UniverseProtocol.ArtNet, 0x123), 1L, 6L, 0L), (port.Universe, port.Requests, port.Answers, port.Damaged));
        RdmDevice device = Assert.Single(rdm.Devices);
        Assert.Equal(("7FF0:00000001", 0x42, 101, 16, 2, 3), (device.Uid.ToString(), device.ModelId, device.StartAddress, device.Footprint, device.Personality, device.PersonalityCount));
        Assert.Equal(116, device.LastSlot);
        Assert.Equal(2, device.AddressRecord);
        Assert.Equal("16-bit mode", device.PersonalityName);
        Assert.Equal([new RdmSlot(1, "intensity", ""), new RdmSlot(2, "fine of slot 1", ""), new RdmSlot(3, "pan", "")], device.Slots);

        // NACK to SLOT_INFO: unknown PID; SET IDENTIFY_DEVICE was asked and not answered, so it is not known.
        Assert.Equal([(0x120, false, 0, 1L)], device.Refusals.Select(refusal => (refusal.Parameter, refusal.IsSet, refusal.Reason, refusal.Count)));
        Assert.Null(device.IsIdentifying);
    }

    [Fact]
    public void The_constructed_table_and_request_are_read()
    {
        RdmSnapshot rdm = Survey(CaptureVectors.PathOf("all.pcapng")).Rdm!;
        Assert.Equal(["7FF0:00000001", "7FF0:00000002"], rdm.Devices.Select(device => device.Uid.ToString()));
        RdmPort port = Assert.Single(rdm.Ports);
        Assert.Equal((1L, 1L, 0L, 1L), (port.Tables, port.Requests, port.Answers, port.Flushes));
        Assert.True(rdm.Devices[0].IsInTable);
        Assert.False(rdm.Devices[0].IsHeard);
    }

    [Fact]
    public void The_capture_is_the_script_byte_for_byte() =>
        Assert.Equal(StageLeftRdm.Script().Pcapng(), File.ReadAllBytes(StageLeft));

    [Fact]
    public void Devices_say_where_they_read_and_how_they_answer()
    {
        SurveySnapshot survey = Survey(StageLeft);
        RdmSnapshot rdm = survey.Rdm!;
        Assert.Equal(
        [
            "7FF0:00000101 1 10 1 LX1-1 1/0", "7FF0:00000102 13 10 1  1/1", "7FF0:00000103 25 6 2  2/0", "7FF0:00000104 37 10 1 LX1-4 4/0",
            "7FF0:00000105     3/0", "7FF0:00000106 16 10 1  1/0", "7FF0:00000200     1/0", "7FF0:00000300 300 4 1  1/0",
        ],
        rdm.Devices.Select(device => $"{device.Uid} {device.StartAddress} {device.Footprint} {device.Personality} {device.Label} {(device.Uid.Device == 0x105 ? device.Unanswered : device.Answers - (device.Uid.Device == 0x101 ? 3 : 0))}/{device.Vanished}"));
        Assert.Equal([101, 102, 103, 104, 105, 106], rdm.Devices.Single(device => device.Uid.Device == 0x200).SubDevices.Select(part => part.StartAddress));
        RdmDevice first = rdm.Devices[0];
        Assert.Equal(["1 intensity ", "2 red ", "3 green ", "4 blue ", "8  Shutter"], first.Slots.Select(slot => $"{slot.Number} {slot.Kind} {slot.Name}"));
        RdmPort port = Assert.Single(rdm.Ports);
        Assert.Equal((3L, 2L, 1L), (port.Tables, port.TableChanges, port.Damaged));
        Assert.Equal(
            ["rdm-addresses-overlap", "rdm-addresses-overlap", "rdm-change-refused", "rdm-damaged", "rdm-device-silent", "rdm-table-unsteady"],
            survey.Findings.Select(finding => finding.Id).Where(id => id.StartsWith("rdm", StringComparison.Ordinal)).Order(StringComparer.Ordinal));
    }

    // The moments of captures/rdm/stage-left.pcapng (StageLeftRdm.cs), in seconds from 19:44:00, and the records counted by hand.
    [Fact]
    public void Each_finding_is_about_its_own_moments()
    {
        Assert.Equal(
        [
            "rdm-addresses-overlap 2.05 2.05 13", // the later of the two says where it reads
            "rdm-addresses-overlap 2.05 2.05 13",
            "rdm-change-refused 5.25 5.25 34",
            "rdm-device-silent 1.8 2.6 11", // its first request to its last
            "rdm-damaged 5.6 5.6 35",
            "rdm-table-unsteady 6 8 36",
        ],
        Survey(StageLeft).Findings.Where(finding => finding.Id.StartsWith("rdm", StringComparison.Ordinal)).Select(finding => string.Create(
            System.Globalization.CultureInfo.InvariantCulture,
            $"{finding.Id} {(finding.From - TrafficScript.Start).TotalSeconds:0.###} {(finding.To - TrafficScript.Start).TotalSeconds:0.###} {finding.FirstRecord}")));
    }

    [Fact]
    public void Damaged_cut_and_random_packets_neither_throw_nor_grow()
    {
        Random random = new(8);
        RdmAnalyzer analyzer = new();
        byte[] whole = StageLeftPayloads().First(payload => payload.Length > 60);
        for (int i = 0; i < 20_000; i++)
        {
            byte[] payload = i % 2 == 0 ? whole[..random.Next(whole.Length + 1)] : [.. whole];
            for (int hit = 0; hit < random.Next(12) && payload.Length > 0; hit++)
            {
                payload[random.Next(payload.Length)] = (byte)random.Next(256);
            }

            foreach (ArtOpCode code in new[] { ArtOpCode.Rdm, ArtOpCode.TodData, ArtOpCode.TodControl, ArtOpCode.RdmSub, ArtOpCode.TodRequest })
            {
                analyzer.OnRdm(new RdmTraffic { Time = Timestamp.FromUnixNanoseconds(i), Record = i, OpCode = code, Payload = payload });
            }
        }

        Assert.True(analyzer.Snapshot()!.Devices.Count <= RdmAnalyzer.MostDevices);
    }

    [Fact]
    public void A_flood_of_UIDs_is_counted_and_not_kept()
    {
        RdmAnalyzer analyzer = new();
        byte[] payload = StageLeftPayloads().First(each => each[9] == 0x81);
        for (int i = 0; i < 6_000; i++)
        {
            payload[28] = (byte)(i >> 8);
            payload[29] = (byte)(i & 0xFF);
            payload[27] = 1;
            payload[25] = 1;
            analyzer.OnRdm(new RdmTraffic { Time = Timestamp.FromUnixNanoseconds(i), Record = i, OpCode = ArtOpCode.TodData, Payload = payload });
        }

        RdmSnapshot rdm = analyzer.Snapshot()!;
        Assert.Equal((RdmAnalyzer.MostDevices, 6_000L - RdmAnalyzer.MostDevices), (rdm.Devices.Count, rdm.DevicesNotListed));
    }

    private static SurveySnapshot Survey(string path)
    {
        using ICaptureSource source = CaptureFile.Open(path);
        return Surveyor.Run(source, CancellationToken.None);
    }

    // What follows the Ethernet, IPv4 and UDP headers.
    private static IEnumerable<byte[]> StageLeftPayloads() => StageLeftRdm.Script().Frames().Select(frame => frame.Frame[42..]);
}
