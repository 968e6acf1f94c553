namespace DmxProbe.Testing.Network;

/// <summary>
/// Finds the moments at which a universe is sent: at a change, for the repeats after it, and as keep-alive
/// (E1.31-2018 section 6.6.2); or at every tick.
/// </summary>
/// <param name="plan">The rules.</param>
/// <param name="random">Numbers for this stream alone.</param>
/// <param name="phase">Offset of its ticks.</param>
/// <param name="until">End of the simulation.</param>
internal sealed class StreamClock(StreamPlan plan, SeededRandom random, long phase, long until)
{
    private readonly byte[] _levels = new byte[plan.SlotCount];
    private readonly byte[] _sent = new byte[plan.SlotCount];
    private long _ticks = (plan.Start + plan.Tick - 1) / plan.Tick;
    private bool _first = true;
    private int _repeats;
    private int _alternates;

    /// <summary>The moments in order.</summary>
    /// <param name="changesElsewhere">Moments at which something besides the levels changes, such as the priority.</param>
    public IEnumerable<StreamMoment> Moments(IReadOnlyList<long> changesElsewhere)
    {
        long end = Math.Min(plan.Stop ?? until, until);
        long tick = NextTick();
        long keepAlive = long.MaxValue;
        long alternate = plan.Alternates.Count > 0 ? plan.Start + (plan.AlternateEvery / 2) : long.MaxValue;
        int elsewhere = 0;
        while (true)
        {
            long time = Math.Min(Math.Min(tick, keepAlive), alternate);
            if (time >= end)
            {
                yield break;
            }

            if (time == alternate)
            {
                alternate += plan.AlternateEvery;
                if (!plan.IsSilent(time))
                {
                    yield return new(time, SendReason.Other, plan.Alternates[_alternates++ % plan.Alternates.Count], _sent);
                }

                continue;
            }

            bool isTick = time == tick;
            tick = isTick ? NextTick() : tick;
            if (plan.IsSilent(time))
            {
                _first = true;
                keepAlive = long.MaxValue;
                continue;
            }

            bool forced = elsewhere < changesElsewhere.Count && changesElsewhere[elsewhere] <= time;
            elsewhere += forced ? 1 : 0;
            if (ReasonAt(time, isTick, forced) is not SendReason reason)
            {
                continue;
            }

            yield return new(time, reason, null, _sent);
            bool idle = _repeats == 0 && !plan.ConstantRate;
            keepAlive = idle ? time + random.Next(plan.KeepAliveFrom, plan.KeepAliveTo) : long.MaxValue;
        }
    }

    private SendReason? ReasonAt(long time, bool isTick, bool forced)
    {
        if (!isTick)
        {
            return SendReason.KeepAlive;
        }

        plan.Levels(time, _levels);
        if (_first || forced || !_levels.AsSpan().SequenceEqual(_sent))
        {
            _first = false;
            _levels.CopyTo(_sent, 0);
            _repeats = plan.Repeats;
            return SendReason.Change;
        }

        if (plan.ConstantRate)
        {
            return SendReason.ConstantRate;
        }

        if (_repeats == 0)
        {
            return null;
        }

        _repeats--;
        return SendReason.Repeat;
    }

    private long NextTick() =>
        phase + (_ticks++ * plan.Tick) + (plan.TickJitter > 0 ? random.Next(0, plan.TickJitter) : 0);
}
