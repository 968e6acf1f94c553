using DmxProbe.Capture.Filters;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.CaptureFiles;
using DmxProbe.Testing.Measuring;

namespace DmxProbe.Capture.Tests.Filters;

public sealed class MergedSourceTests
{
    [Fact]
    public void Records_come_by_time_and_equal_times_in_the_order_of_the_sources()
    {
        using MergedSource merged = new(
        [
            new ScriptedSource("a").Packet(10, 1).Packet(20, 2).Packet(30, 3),
            new ScriptedSource("b").Packet(5, 4).Packet(20, 5).Packet(20, 6).Packet(40, 7),
            new ScriptedSource("c").Packet(20, 8),
        ]);

        Assert.Equal(["5 04", "10 01", "20 02", "20 05", "20 06", "20 08", "30 03", "40 07", "End"], Read(merged));
        Assert.Equal("a + b + c", merged.Name);
    }

    // Order is kept within a source even where its times run backwards; the others wait for it.
    [Fact]
    public void A_source_is_never_reordered_by_itself()
    {
        using MergedSource merged = new(
            [new ScriptedSource("a").Packet(10, 1).Packet(7, 2).Packet(30, 3), new ScriptedSource("b").Packet(8, 4).Packet(9, 5)]);
        Assert.Equal(["8 04", "9 05", "10 01", "7 02", "30 03", "End"], Read(merged));
    }

    // Against the plainest way to merge: put all in one list and sort it, keeping the order of equals.
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(5)]
    public void Any_number_of_sources_gives_what_sorting_gives(int sources)
    {
        Random random = new(sources);
        List<(long Time, string Line)> all = [];
        List<ICaptureSource> parts = [];
        for (int s = 0; s < sources; s++)
        {
            ScriptedSource source = new("s");
            long time = 1;
            for (int i = 0; i < 400; i++)
            {
                time += random.Next(3);
                byte[] data = new byte[random.Next(1, 5_000)];
                random.NextBytes(data);
                source.Packet(time, data);
                all.Add((time, $"{time} {Convert.ToHexString(data)}"));
            }

            parts.Add(source);
        }

        using MergedSource merged = new(parts);
        Assert.Equal([.. all.OrderBy(one => one.Time).Select(one => one.Line), "End"], Read(merged));
    }

    [Fact]
    public void A_record_keeps_all_it_says_but_its_number_and_interface()
    {
        using MergedSource merged = new(
            [new ScriptedSource("a").Packet(3, 9, interfaceId: 1), new ScriptedSource("b").Packet(0, 7, interfaceId: 2).Loss(5, 6)]);
        CapturedFile file = CapturedFile.Read(merged);
        Assert.Equal(
            [
                new CapturedRecord(1, At(0), false, RecordKind.Packet, 4, LinkType.Ethernet, 5, 0, "07"),
                new CapturedRecord(2, At(3), true, RecordKind.Packet, 1, LinkType.Ethernet, 5, 0, "09"),
                new CapturedRecord(3, At(5), true, RecordKind.Loss, 2, LinkType.Ethernet, 4, 6, ""),
            ],
            file.Records);
        Assert.Null(file.Problem);
    }

    [Fact]
    public void Interfaces_are_numbered_anew_and_each_part_says_which_are_its_own()
    {
        ScriptedSource a = new ScriptedSource("a").Packet(1, 1).Packet(9, 2, interfaceId: 1);
        ScriptedSource b = new ScriptedSource("b").Packet(2, 3, interfaceId: 1).Packet(10, 4);
        using MergedSource merged = new([a, b]);
        _ = CapturedFile.Read(merged);
        Assert.Equal(["a0", "b0", "b1", "a1"], merged.Interfaces.Select(i => i.Name));
        Assert.Equal([0, 1, 2, 3], merged.Interfaces.Select(i => i.Id));
        Assert.Equal([a, b], merged.Parts.Select(part => part.Source));
        Assert.Equal([0, 3], merged.Parts[0].InterfaceIds);
        Assert.Equal([1, 2], merged.Parts[1].InterfaceIds);
    }

    [Fact]
    public void The_problem_is_that_of_the_first_part_that_has_one_and_stops_no_other()
    {
        InputProblem cut = new("the file ends inside record 2", "byte 41", "", "", "");
        using MergedSource merged = new(
        [
            new ScriptedSource("a").Packet(8, 1),
            new ScriptedSource("b") { Ending = cut }.Packet(1, 2),
            new ScriptedSource("c") { Ending = cut with { What = "another" } }.Packet(2, 3),
        ]);
        Assert.Null(merged.Problem);
        Assert.Equal(["1 02", "2 03", "8 01", "End"], Read(merged));
        Assert.Same(cut, merged.Problem);
        Assert.Equal(["End"], Read(merged));
    }

    [Fact]
    public void Nothing_overtakes_a_live_source_that_could_still_bring_something_earlier()
    {
        using MergedSource merged = new(
        [
            new ScriptedSource("file").Packet(10, 1).Packet(20, 2),
            new ScriptedSource("live").Idle(5).Idle(12).Packet(15, 3).Idle(19).Idle(30),
        ]);
        // At 5 the live source may still bring 10; at 12 it no longer can. Packet 20 has to wait for 30.
        Assert.Equal(["idle 5", "10 01", "15 03", "idle 19", "20 02", "End"], Read(merged));
    }

    [Fact]
    public void An_idle_time_counts_up_to_and_including_itself()
    {
        using MergedSource merged = new([new ScriptedSource("live").Idle(10).Packet(11, 1), new ScriptedSource("b").Packet(10, 2)]);
        Assert.Equal("10 02", Read(merged)[0]);
    }

    [Fact]
    public void With_several_idle_sources_the_one_furthest_behind_decides()
    {
        using MergedSource merged = new(
            [new ScriptedSource("a").Idle(7), new ScriptedSource("b").Idle(4), new ScriptedSource("c").Packet(9, 1)]);
        Assert.Equal(ReadStatus.Idle, merged.Read(out CaptureRecord idle));
        Assert.Equal(4, idle.Time.UnixNanoseconds);
        Assert.True(idle.Data.IsEmpty);
    }

    // Asking a live source may take as long as its read time-out.
    [Fact]
    public void A_live_source_is_not_asked_again_for_what_it_cannot_bring_any_more()
    {
        ScriptedSource busy = new("busy");
        for (int i = 0; i < 1_000; i++)
        {
            busy.Packet(1 + i, 1);
        }

        ScriptedSource quiet = new ScriptedSource("quiet").Idle(600).Idle(2_000);
        using MergedSource merged = new([busy, quiet]);
        Assert.Equal(1_001, Read(merged).Count(line => !line.StartsWith("idle", StringComparison.Ordinal)));
        Assert.InRange(quiet.Reads, 2, 6);
    }

    [Fact]
    public void The_sources_are_disposed_with_it()
    {
        ScriptedSource a = new("a");
        ScriptedSource b = new("b");
        new MergedSource([a, b]).Dispose();
        Assert.True(a.IsDisposed && b.IsDisposed);
    }

    [Fact]
    public void Merging_a_record_allocates_nothing()
    {
        using ICaptureSource first = new EndlessSource();
        using ICaptureSource second = new EndlessSource();
        using MergedSource merged = new([first, second]);
        long least = Allocations.Least(() =>
        {
            for (int i = 0; i < 100_000; i++)
            {
                _ = merged.Read(out _);
            }
        });

        Assert.Equal(0, least);
    }

    private static Timestamp At(long nanoseconds) => Timestamp.FromUnixNanoseconds(nanoseconds);

    private static List<string> Read(MergedSource source)
    {
        List<string> lines = [];
        while (true)
        {
            switch (source.Read(out CaptureRecord record))
            {
                case ReadStatus.Record:
                    lines.Add($"{record.Time.UnixNanoseconds} {Convert.ToHexString(record.Data)}");
                    break;
                case ReadStatus.Idle:
                    lines.Add($"idle {record.Time.UnixNanoseconds}");
                    break;
                default:
                    lines.Add("End");
                    return lines;
            }
        }
    }
}
