using System.Runtime.InteropServices;
using DmxProbe.Protocols.Line;

namespace DmxProbe.Protocols.Tests.Line;

public class EdgeRunTests
{
    [Fact]
    public void What_was_written_is_read()
    {
        byte[] data = Run(LineLevel.High, EdgeRunFlags.Gap, 7, 1L << 40, 3, EdgeRun.NoEdge, 9);

        Assert.True(EdgeRun.TryParse(data, out EdgeRun run));
        Assert.Equal(LineLevel.High, run.StartLevel);
        Assert.Equal(EdgeRunFlags.Gap, run.Flags);
        Assert.Equal(7u, run.Tail);
        Assert.Equal(1L << 40, run.StartTick);
        Assert.Equal([3u, EdgeRun.NoEdge, 9u], run.Steps.ToArray());
    }

    [Fact]
    public void A_run_cut_anywhere_inside_a_number_is_refused()
    {
        byte[] whole = Run(LineLevel.Low, EdgeRunFlags.None, 0, 0, 1, 2, 3);
        for (int length = 0; length < whole.Length; length++)
        {
            Assert.Equal(
                length >= EdgeRun.HeaderSize && length % 4 == 0, EdgeRun.TryParse(whole.AsSpan(0, length).ToArray(), out _));
        }
    }

    [Fact]
    public void Edges_of_an_unknown_level_an_unknown_flag_and_a_negative_start_are_refused()
    {
        Assert.False(EdgeRun.TryParse(Run(LineLevel.Unknown, EdgeRunFlags.None, 0, 0, 5), out _));
        Assert.True(EdgeRun.TryParse(Run(LineLevel.Unknown, EdgeRunFlags.None, 0, 0, EdgeRun.NoEdge), out _));
        Assert.False(EdgeRun.TryParse(Run(LineLevel.Low, (EdgeRunFlags)4, 0, 0), out _));
        Assert.False(EdgeRun.TryParse(Run((LineLevel)3, EdgeRunFlags.None, 0, 0), out _));
        Assert.False(EdgeRun.TryParse(Run(LineLevel.Low, EdgeRunFlags.None, 0, -1), out _));
    }

    private static byte[] Run(LineLevel level, EdgeRunFlags flags, uint tail, long start, params uint[] steps)
    {
        byte[] data = new byte[EdgeRun.HeaderSize + (4 * steps.Length)];
        EdgeRun.WriteHeader(data, level, flags, tail, start);
        MemoryMarshal.AsBytes<uint>(steps).CopyTo(data.AsSpan(EdgeRun.HeaderSize));
        return data;
    }
}
