using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Survey;
using DmxProbe.Capture.Files;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Files;

namespace DmxProbe.Analysis.Tests.Network;

/// <summary>
/// Every finding of every network recording at hand, exactly: what the notes on their making and the known faults of the
/// libraries that sent them describe (captures/README.md), and nothing more.
/// </summary>
public class RecordedCapturesTests
{
    // Sequence always 0, length by the highest slot changed, one Length 514 with 513 octets, broadcast by default.
    [Fact]
    public void A_library_that_sends_what_changed() => Expect(
        "gen_artnet_artnetlib_partial.pcap",
        "warning art-net-length Art-Net 0:0:0 = Port-Address 0",
        "note art-net-broadcast 10.77.0.10",
        "note sequence-not-used 10.77.0.10",
        "note slot-count-varies Art-Net 0:0:0 = Port-Address 0",
        "note slot-count-varies Art-Net 0:0:1 = Port-Address 1",
        "note slot-count-varies Art-Net 0:0:2 = Port-Address 2",
        "note slot-count-varies Art-Net 1:0:0 = Port-Address 256");

    // Replies of 213 octets, port swapped, many unasked; ephemeral source ports; some Port-Addresses broadcast.
    [Fact]
    public void A_library_with_odd_poll_replies() => Expect(
        "gen_artnet_dmxnet_poll.pcap",
        "warning odd-poll-reply 10.77.0.10",
        "note art-net-broadcast 'dmxnet test node' (10.77.0.10)",
        "note art-net-port 'dmxnet test node' (10.77.0.10)");

    // Sequence 0 and an ephemeral source port.
    [Theory]
    [InlineData("gen_artnet_vlan20_qinq.pcap", "10.77.0.10")]
    [InlineData("gen_artnet_any_sll2.pcap", "10.77.0.10")]
    [InlineData("gen_artnet_loopback.pcap", "127.0.0.1")]
    public void A_driver_that_does_not_count(string file, string sender) =>
        Expect(file, $"note art-net-port {sender}", $"note sequence-not-used {sender}");

    // Priority 50, 150, 50 of a second source; universe 3 ended with three packets.
    [Fact]
    public void Two_sources_of_which_one_takes_over() => Expect(
        "gen_sacn_two_sources_terminate.pcap",
        "note obeyed-sender-changed sACN 1",
        "note stream-ended sACN 3");

    // Two data packets that ask for synchronization address 4, one synchronization packet, one discovery list.
    [SkippableFact]
    public void Four_packets_of_a_real_source() => Expect("real_sacn_data_sync_discovery_4pk.pcapng");

    // Two packets a second of 3 slots that never change, over a loopback interface: more often than every 800 ms.
    [SkippableFact]
    public void A_real_source_on_a_loopback_interface() =>
        Expect("real_sacn_loopback_null_u1.pcapng", "note keep-alive-fast sACN 1");

    private static void Expect(string file, params string[] expected)
    {
        string ours = Path.Combine(Places.Repository, "captures", "net", file);
        string? path = File.Exists(ours) ? ours : Places.SharedFile("captures", "net", file);
        Skip.If(path is null, Places.NoShared);
        using ICaptureSource source = CaptureFile.Open(path);

        SurveySnapshot survey = Surveyor.Run(source, default);

        Assert.Equal(expected.Order(StringComparer.Ordinal), survey.Findings.Select(Row).Order(StringComparer.Ordinal));
        Assert.All(survey.Findings, finding => Assert.EndsWith(".", finding.Text, StringComparison.Ordinal));
    }

    private static string Row(Finding finding) => (finding.Severity switch
    {
        Severity.Fault => "fault",
        Severity.Warning => "warning",
        _ => "note",
    }) + $" {finding.Id} {finding.Subject}";
}
