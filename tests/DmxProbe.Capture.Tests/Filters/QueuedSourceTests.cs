using DmxProbe.Capture.Filters;
using DmxProbe.Capture.Live;
using DmxProbe.Capture.Tests.Live;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Capture.Tests.Filters;

public class QueuedSourceTests
{
    private const int SmallQueue = 64 * 1024;

    [Fact]
    public void Everything_comes_through_in_order_and_unchanged_while_the_reader_keeps_up()
    {
        using AllowedSource inner = new();
        using QueuedSource queued = new(inner, capacity: SmallQueue);
        long expected = 0;
        for (int round = 0; round < 200; round++)
        {
            inner.Allow(50);
            while (expected < (round + 1) * 50)
            {
                if (queued.Read(out CaptureRecord record) == ReadStatus.Record)
                {
                    expected++;
                    Assert.Equal(expected, BitConverter.ToInt64(record.Data));
                    Assert.Equal(8 + (int)(expected % 600), record.Data.Length);
                    Assert.Equal(AllowedSource.TimeOf(expected), record.Time);
                    Assert.Equal(expected, record.Number);
                    Assert.Equal(0, record.LostBefore);
                }
            }
        }
    }

    [Fact]
    public void What_does_not_fit_is_told_as_loss_to_the_last_record()
    {
        const int Sent = 5000;
        List<LiveNotice> told = [];
        using AllowedSource inner = new();
        using QueuedSource queued = new(inner, told.Add, SmallQueue);
        inner.Allow(Sent);
        Assert.True(SpinWait.SpinUntil(() => inner.HasGivenAll, 5000));
        inner.Stop();
        long received = 0;
        long lost = 0;
        ReadStatus status;
        while ((status = queued.Read(out CaptureRecord record)) != ReadStatus.End)
        {
            received += status == ReadStatus.Record && record.Kind == RecordKind.Packet ? 1 : 0;
            lost += status == ReadStatus.Record ? record.LostBefore : 0;
        }

        Assert.True(lost > 0);
        Assert.Equal(Sent, received + lost);
        Assert.Single(told, notice => notice.Id == "queue-overrun");
    }

    [Fact]
    public void An_idle_time_never_overtakes_a_record()
    {
        using AllowedSource inner = new();
        using QueuedSource queued = new(inner, capacity: SmallQueue);
        Timestamp idle = Timestamp.MinValue;
        long seen = 0;
        while (seen < 3000)
        {
            inner.Allow(seen == 0 || seen % 7 == 0 ? 1 : 0);
            ReadStatus status = queued.Read(out CaptureRecord record);
            if (status == ReadStatus.Record)
            {
                seen++;
                Assert.True(record.Time > idle);
                inner.Allow(1);
            }
            else
            {
                idle = record.Time;
            }
        }
    }

    [Fact]
    public void A_failure_of_the_source_reaches_whoever_reads()
    {
        using QueuedSource queued = new(new FailingSource());
        Assert.Throws<InvalidDataException>(() =>
        {
            while (queued.Read(out _) != ReadStatus.End)
            {
            }
        });
    }

    private sealed class FailingSource : ILiveSource
    {
        public string Name => "failing";

        public IReadOnlyList<CaptureInterface> Interfaces => [];

        public InputProblem? Problem => null;

        public void Stop()
        {
        }

        public ReadStatus Read(out CaptureRecord record) => throw new InvalidDataException("a bug");

        public void Dispose()
        {
        }
    }
}
