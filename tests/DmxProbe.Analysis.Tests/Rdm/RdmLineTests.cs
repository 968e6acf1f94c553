using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Rdm;
using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Line;
using DmxProbe.Testing.Measuring;

namespace DmxProbe.Analysis.Tests.Rdm;

/// <summary>
/// RDM on a line that was synthesised packet by packet. Limits: a responder begins within 2.0 ms of the request (ANSI E1.20,
/// secondary sources); a drop of the levels by 20 % is common practice, no source.
/// </summary>
public sealed class RdmLineTests
{
    private const long Controller = 0x7FF0_1234_5678;
    private const long Device = 0x7FF0_0000_0001;
    private const long Other = 0x7FF0_0000_0002;
    private static readonly LineForm Request = new() { Break = 200, MarkBeforeBreak = 500 };
    private static readonly LineForm Reply = new() { Break = 200, MarkBeforeBreak = 3_500 };

    [Fact]
    public void A_device_on_a_line_is_known_by_its_answers()
    {
        SurveySnapshot survey = Survey(line => Repeat(line, 4, _ => line
            .Levels(new LineForm(), Ramp(100))
            .Packet(Request, RdmOctets.GetStartAddress(Device, Controller))
            .Packet(Reply, RdmOctets.StartAddressIs(Controller, Device, 101))));
        RdmDevice device = Assert.Single(survey.Rdm!.Devices);
        Assert.Equal((101, 4L, 4L, 0L, 0L), (device.StartAddress, device.Requests, device.Answers, device.Unanswered, device.Late));
        Assert.Equal(0.5, device.Slowest!.Value.TotalMilliseconds, 0.01);
        Assert.DoesNotContain(survey.Findings, finding => finding.Id.StartsWith("rdm", StringComparison.Ordinal));
    }

    [Fact]
    public void Answers_that_begin_too_late_name_their_device()
    {
        SurveySnapshot survey = Survey(line => Repeat(line, 4, i => line
            .Packet(Request with { MarkBeforeBreak = i == 2 ? 2_300 : 1_900 }, RdmOctets.GetStartAddress(Device, Controller))
            .Packet(Reply, RdmOctets.StartAddressIs(Controller, Device, 101))));
        Finding late = Assert.Single(survey.Findings, finding => finding.Id == "rdm-answers-late");
        Assert.Contains("7FF0:00000001 began 1 answer later than a responder may", late.Text, StringComparison.Ordinal);
        Assert.Contains("slowest 2.30 ms", late.Measured, StringComparison.Ordinal);
    }

    [Fact]
    public void A_request_that_another_one_follows_was_not_answered()
    {
        SurveySnapshot survey = Survey(line => Repeat(line, 6, i =>
        {
            line.Packet(Reply, RdmOctets.GetStartAddress(Other, Controller));
            line.Packet(Request, RdmOctets.GetStartAddress(Device, Controller));
            if (i != 3 && i != 4)
            {
                line.Packet(Reply, RdmOctets.StartAddressIs(Controller, Device, 101));
            }
        }));
        Assert.Equal([2L, 6L], survey.Rdm!.Devices.Select(device => device.Unanswered));
        Assert.Contains("left 2 requests of 6 unanswered", Assert.Single(survey.Findings, finding => finding.Id == "rdm-answers-missing").Text, StringComparison.Ordinal);
        Assert.Contains("7FF0:00000002 answered no RDM request at all", Assert.Single(survey.Findings, finding => finding.Id == "rdm-device-silent").Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Nobody_answers_where_the_way_back_is_cut()
    {
        SurveySnapshot survey = Survey(line => Repeat(line, 5, _ => line
            .Levels(new LineForm(), Ramp(100))
            .Packet(Reply, RdmOctets.GetStartAddress(Device, Controller))));
        Assert.Contains("not one answer: the way back is cut", Assert.Single(survey.Findings, finding => finding.Id == "rdm-no-answers").Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Two_devices_of_one_UID_collide_where_only_it_is_searched()
    {
        byte[] alone = RdmOctets.Packet(0xFFFFFFFFFFFF, Controller, 0, 1, 0x10, 0x0001, 0x7F, 0xF0, 0, 0, 0, 1, 0x7F, 0xF0, 0, 0, 0, 1);
        byte[] garbled = RdmOctets.DiscoveryReply(Device);
        garbled[10] ^= 0x11;
        SurveySnapshot survey = Survey(line => Repeat(line, 3, _ => line
            .Packet(Request, RdmOctets.DiscoverAll(Controller))
            .Unbroken(new LineForm { MarkBeforeBreak = 6_000 }, garbled)
            .Packet(Request, alone)
            .Unbroken(new LineForm { MarkBeforeBreak = 6_000 }, garbled)));
        RdmPort port = Assert.Single(survey.Rdm!.Ports);
        Assert.Equal((6L, 6L), (port.Discoveries, port.DiscoveryCollisions));
        Finding twice = Assert.Single(survey.Findings, finding => finding.Id == "rdm-uid-twice");
        Assert.Equal(Severity.Fault, twice.Severity);
        Assert.StartsWith("3 collisions", twice.Measured, StringComparison.Ordinal);

        // Collisions in a wide search are how searching works.
        SurveySnapshot usual = Survey(line => Repeat(line, 3, _ => line
            .Packet(Request, RdmOctets.DiscoverAll(Controller))
            .Unbroken(new LineForm { MarkBeforeBreak = 6_000 }, garbled)));
        Assert.DoesNotContain(usual.Findings, finding => finding.Id.StartsWith("rdm", StringComparison.Ordinal));
    }

    [Fact]
    public void Levels_that_starve_while_RDM_polls_are_told_with_both_rates()
    {
        // 512 slots take 176 + 12 + 513 x 44 + 100 us = 22.86 ms, 43.7 a second; with two requests
        // of 26 slots, two answers of 28 and the gaps after them 36.5 ms, 27.4 a second.
        LineForm levels = new() { MarkBeforeBreak = 100 };
        SurveySnapshot survey = Survey(line =>
        {
            Repeat(line, 60, _ => line.Levels(levels, Ramp(512)));
            Repeat(line, 40, _ => line
                .Levels(levels, Ramp(512))
                .Packet(Request, RdmOctets.GetStartAddress(Device, Controller))
                .Packet(Reply, RdmOctets.StartAddressIs(Controller, Device, 101))
                .Packet(Request, RdmOctets.GetStartAddress(Device, Controller))
                .Packet(Reply, RdmOctets.StartAddressIs(Controller, Device, 101)));
            Repeat(line, 60, _ => line.Levels(levels, Ramp(512)));
        });
        RdmShare share = survey.Rdm!.Ports[0].Share!;
        Assert.Equal(43.7, share.QuietHz!.Value, 0.3);
        Assert.Equal(27.4, share.PolledHz!.Value, 0.3);
        Finding starved = Assert.Single(survey.Findings, finding => finding.Id == "levels-starved-by-rdm");
        Assert.Equal(Severity.Warning, starved.Severity);
    }

    [Fact]
    public void A_second_without_levels_is_a_fault_and_little_RDM_is_none()
    {
        SurveySnapshot lost = Survey(line =>
        {
            Repeat(line, 30, _ => line.Levels(new LineForm(), Ramp(512)));
            Repeat(line, 220, _ => line.Packet(Reply, RdmOctets.GetStartAddress(Device, Controller)));
            Repeat(line, 30, _ => line.Levels(new LineForm(), Ramp(512)));
        });
        Assert.Equal(Severity.Fault, Assert.Single(lost.Findings, finding => finding.Id == "levels-starved-by-rdm").Severity);

        SurveySnapshot little = Survey(line => Repeat(line, 100, i =>
        {
            line.Levels(new LineForm(), Ramp(512));
            if (i % 10 == 9)
            {
                line.Packet(Request, RdmOctets.GetStartAddress(Device, Controller)).Packet(Reply, RdmOctets.StartAddressIs(Controller, Device, 101));
            }
        }));
        Assert.DoesNotContain(little.Findings, finding => finding.Id.StartsWith("levels-", StringComparison.Ordinal));
    }

    [Fact]
    public void Levels_cut_short_before_RDM_are_counted()
    {
        SurveySnapshot survey = Survey(line => Repeat(line, 8, i => line
            .Levels(new LineForm(), Ramp(512))
            .Levels(new LineForm(), Ramp(i < 4 ? 3 : 512))
            .Packet(Request, RdmOctets.GetStartAddress(Device, Controller))
            .Packet(Reply, RdmOctets.StartAddressIs(Controller, Device, 101))));
        Assert.Equal(4, survey.Rdm!.Ports[0].Share!.ShortBeforeRdm);
        Assert.Contains("4 packets of levels right before RDM", Assert.Single(survey.Findings, finding => finding.Id == "levels-cut-short-for-rdm").Text, StringComparison.Ordinal);
    }

    [Fact]
    public void An_address_set_over_RDM_counts_when_the_device_agrees()
    {
        SurveySnapshot survey = Survey(line => line
            .Packet(Request, RdmOctets.GetStartAddress(Device, Controller))
            .Packet(Reply, RdmOctets.StartAddressIs(Controller, Device, 61))
            .Packet(Request, RdmOctets.Packet(Device, Controller, 2, 1, 0x30, 0x00F0, 0, 16))
            .Packet(Reply, RdmOctets.Packet(Controller, Device, 2, 0, 0x31, 0x00F0))
            .Packet(Request, RdmOctets.Packet(Device, Controller, 3, 1, 0x30, 0x00F0, 0, 99))
            .Packet(Reply, RdmOctets.Packet(Controller, Device, 3, 2, 0x31, 0x00F0, 0, 4))
            .Packet(Request, RdmOctets.Packet(Device, Controller, 4, 1, 0x30, 0x1000, 1))
            .Packet(Reply, RdmOctets.Packet(Controller, Device, 4, 0, 0x31, 0x1000)));
        RdmDevice device = Assert.Single(survey.Rdm!.Devices);
        Assert.Equal((16, true), (device.StartAddress, device.IsIdentifying));
        RdmAddressChange change = Assert.Single(device.AddressChanges);
        Assert.Equal((61, 16, Controller), (change.From, change.To, change.SetBy!.Value.Value));
        Assert.Equal(
            ["rdm-address-changed", "rdm-change-refused", "rdm-identify-on"],
            survey.Findings.Select(finding => finding.Id).Where(id => id.StartsWith("rdm", StringComparison.Ordinal)).Order(StringComparer.Ordinal));
    }

    [Fact]
    public void Overlapping_and_overlong_places_are_faults()
    {
        SurveySnapshot survey = Survey(line => line
            .Packet(Request, RdmOctets.Packet(Device, Controller, 1, 1, 0x20, 0x0060))
            .Packet(Reply, RdmOctets.Packet(Controller, Device, 1, 0, 0x21, 0x0060, Info(16, 101)))
            .Packet(Request, RdmOctets.Packet(Other, Controller, 2, 1, 0x20, 0x0060))
            .Packet(Reply, RdmOctets.Packet(Controller, Other, 2, 0, 0x21, 0x0060, Info(16, 116)))
            .Packet(Request, RdmOctets.Packet(Other + 1, Controller, 3, 1, 0x20, 0x0060))
            .Packet(Reply, RdmOctets.Packet(Controller, Other + 1, 3, 0, 0x21, 0x0060, Info(16, 500))));
        Assert.Contains("share slot 116:", Assert.Single(survey.Findings, finding => finding.Id == "rdm-addresses-overlap").Text, StringComparison.Ordinal);
        Assert.Contains("the last 3 of them do not exist", Assert.Single(survey.Findings, finding => finding.Id == "rdm-past-slot-512").Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Nothing_is_allocated_for_levels_beside_RDM()
    {
        RdmAnalyzer analyzer = new();
        byte[] slots = new byte[512];
        long time = 0;
        Assert.Equal(0, Allocations.Least(() =>
        {
            for (int i = 0; i < 1_000; i++)
            {
                analyzer.OnFrame(new DmxFrame
                {
                    Time = Timestamp.FromUnixNanoseconds(time += 1_000_000),
                    Record = i,
                    Universe = new UniverseId(UniverseProtocol.Line, 0),
                    UniverseIndex = 0,
                    Stream = 0,
                    Sender = 0,
                    Slots = slots,
                });
            }
        }));
    }

    private static byte[] Info(int footprint, int address) =>
        [1, 0, 0, 0x42, 1, 2, 0, 1, 2, 3, 0, (byte)footprint, 1, 1, (byte)(address >> 8), (byte)(address & 0xFF), 0, 0, 0];

    private static SurveySnapshot Survey(Action<LineSynthesiser> build)
    {
        LineSynthesiser line = new(5);
        line.Idle(2_000);

        // A line without levels is not taken for DMX512.
        Repeat(line, 3, _ => line.Levels(new LineForm(), Ramp(512)));
        build(line);
        line.Idle(5_000);
        using LineRecordingSource source = new LineRecording(4_000_000, [new LineTrack("out", line.Signal)]).Open();
        return Surveyor.Run(source, CancellationToken.None);
    }

    private static void Repeat(LineSynthesiser line, int times, Action<int> what)
    {
        Assert.NotNull(line);
        for (int i = 0; i < times; i++)
        {
            what(i);
        }
    }

    private static byte[] Ramp(int count) => [.. Enumerable.Range(0, count).Select(slot => (byte)(slot * 7 % 256))];
}
