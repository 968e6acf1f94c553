using DmxProbe.Analysis.Diagnosis.Units;

namespace DmxProbe.Analysis.Tests.Diagnosis;

/// <summary>Sixteen slots at a time give what one at a time gives.</summary>
public class SlotTrackTests
{
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void Slots_counted_sixteen_at_a_time_are_those_counted_one_by_one(int seed)
    {
        Random random = new(seed);
        SlotTrack track = new();
        int[] now = new int[512], least = new int[512], greatest = new int[512], changes = new int[512], jumps = new int[512];
        int sent = 0;
        byte[] frame = new byte[512];
        for (int n = 0; n < 900; n++)
        {
            // Any length, most often the same; some slots change in every frame, over 255 times in all.
            int length = random.Next(10) == 0 ? random.Next(0, 513) : 500;
            for (int i = 0; i < 512; i++)
            {
                frame[i] = i % 7 == 0 || random.Next(20) == 0 ? (byte)random.Next(256) : frame[i];
            }

            for (int i = 0; i < length; i++)
            {
                if (i >= sent)
                {
                    now[i] = least[i] = greatest[i] = frame[i];
                }

                changes[i] += now[i] != frame[i] ? 1 : 0;
                jumps[i] += Math.Abs(now[i] - frame[i]) > 200 ? 1 : 0;
                least[i] = Math.Min(least[i], frame[i]);
                greatest[i] = Math.Max(greatest[i], frame[i]);
                now[i] = frame[i];
            }

            sent = Math.Max(sent, length);
            track.Take(frame.AsSpan(0, length));
        }

        Assert.Equal(sent, track.SlotsSent);
        Assert.Equal(
            Enumerable.Range(0, sent).Select(i => new SlotActivity((byte)now[i], (byte)least[i], (byte)greatest[i], changes[i], jumps[i])),
            track.Snapshot(0, sent));
    }

    [Fact]
    public void A_frame_that_says_the_same_changes_nothing()
    {
        SlotTrack track = new();
        Assert.True(track.Take([1, 2, 3]));
        Assert.False(track.Take([1, 2, 3]));
        Assert.False(track.Take([1, 2]));
        Assert.False(track.Take([]));
        Assert.True(track.Take([1, 2, 3, 4]));
        Assert.Equal(0, track.Snapshot(0, 4).Sum(slot => slot.Changes));
    }
}
