using DmxProbe.Analysis.Compare;
using DmxProbe.Protocols.Records;
using DmxProbe.Protocols.Serial;
using DmxProbe.Testing.Serial;

namespace DmxProbe.Analysis.Tests.Compare;

/// <summary>One line, recorded at its start and at its far end, with errors that are known.</summary>
public class SegmentComparerTests
{
    private const long Interval = 25_000_000;

    [Fact]
    public void A_good_line_loses_nothing_on_the_way()
    {
        SegmentComparison found = Compare(Tap(400, 0, Whole), Tap(400, 3_600_000_000_000, Whole));
        Assert.True(found.IsAligned);
        Assert.InRange(found.Packets, 395, 400);
        Assert.Equal(0, found.LostOnTheWay);
    }

    [Fact]
    public void Errors_that_appear_only_at_the_far_end_are_counted_by_kind_and_slot()
    {
        SegmentComparison found = Compare(
            Tap(400, 0, Whole),
            Tap(400, 5_000_000_000, (number, run) => (number % 40) switch
            {
                7 => null,
                11 => With(run, 2 * 6, (byte)SerialStatus.Error), // the character after break, START code and 4 slots: slot 5
                13 or 17 => With(run, (2 * 10) + 1, 0xEE), // slot 9
                _ => run,
            }));
        Assert.True(found.IsAligned);
        Assert.Equal((10, 10, 20, 0), (found.Missing, found.DamagedAtEnd, found.Different, found.DamagedAtStart));
        Assert.Equal((9, 20L), (Assert.Single(found.DifferingSlots).Value, found.DifferingSlots[0].Count));
    }

    [Fact]
    public void Damage_at_the_start_is_not_blamed_on_the_cable()
    {
        Func<int, byte[], byte[]?> damaged = (number, run) => number % 20 == 3 ? With(run, 2 * 6, (byte)SerialStatus.Error) : run;
        SegmentComparison found = Compare(Tap(400, 0, damaged), Tap(400, 0, damaged));
        Assert.Equal((20, 0, 0, 0), (found.DamagedAtStart, found.Missing, found.DamagedAtEnd, found.Different));
    }

    [Fact]
    public void Another_line_is_not_laid_over_it()
    {
        SegmentComparison found = Compare(Tap(100, 0, Whole), Tap(100, 0, Whole, seed: 50_000));
        Assert.False(found.IsAligned);
        Assert.Equal(0, found.Packets);
    }

    private static byte[]? Whole(int number, byte[] run) => run;

    private static byte[] With(byte[] run, int at, byte value)
    {
        byte[] changed = [.. run];
        changed[at] = value;
        return changed;
    }

    private static SegmentComparison Compare(TapRecording start, TapRecording end)
    {
        TapComparison found = TapComparison.Of(start, end, Duration.FromMilliseconds(1))!;
        Assert.True(found.IsSegment);
        return Assert.Single(found.Segments);
    }

    // A packet of 32 slots each 25 ms, whose levels change every third packet.
    private static TapRecording Tap(int packets, long offset, Func<int, byte[], byte[]?> harm, int seed = 0)
    {
        SerialRecords records = new(InterfaceContent.SerialUart);
        for (int number = 0; number <= packets; number++)
        {
            byte[] slots = new byte[32];
            new Random(seed + (number / 3)).NextBytes(slots);
            byte[] run = [1, 0, .. SerialOctets.Run([0, .. slots])];
            byte[]? harmed = number == packets ? [1, 0] : harm(number, run);
            if (harmed is not null)
            {
                records.Add(1_700_000_000_000_000_000 + offset + (number * Interval), harmed);
            }
        }

        return GatewayComparerTests.Record(records);
    }
}
