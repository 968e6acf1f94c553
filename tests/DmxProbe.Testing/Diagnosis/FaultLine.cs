using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Line;
using DmxProbe.Testing.Network;

namespace DmxProbe.Testing.Diagnosis;

/// <summary>A line of a rig as it is recorded: legal by itself, with what is put wrong.</summary>
public sealed class FaultLine
{
    private const double Seconds = 2;
    private const double Long = 1e9 * Seconds;

    /// <summary>Samples per second.</summary>
    public long Rate { get; set; } = 10_000_000;

    /// <summary>The form of a packet by its number.</summary>
    public Func<int, LineForm, LineForm> Form { get; set; } = (_, form) => form;

    /// <summary>Slots of a packet by its number.</summary>
    public Func<int, int> Slots { get; set; } = _ => 512;

    /// <summary>Put in after a packet by its number.</summary>
    public Action<int, LineSynthesiser, LineForm>? After { get; set; }

    /// <summary>Whether the legs are swapped.</summary>
    public bool Reversed { get; set; }

    /// <summary>Whether nothing is sent.</summary>
    public bool Silent { get; set; }

    /// <summary>A second transmitter on the line; null for none.</summary>
    public Func<FaultRig, LineSignal>? Other { get; set; }

    /// <summary>Records it.</summary>
    public ICaptureSource Record(FaultRig rig)
    {
        LineSynthesiser line = new(rig.Seed);
        SeededRandom random = SeededRandom.For(rig.Seed, 31);
        LevelSource levels = rig.Show.Of(rig.Target);
        LineForm usual = new()
        {
            Break = random.Next(100, 200),
            MarkAfterBreak = random.Next(14, 60),
            Bit = 4 + (random.Next(-20, 21) * 0.001),
            MarkBeforeBreak = random.Next(60, 4_000),
            InterSlot = random.Next(0, 3) * 2,
        };
        line.Idle(300);
        byte[] slots = new byte[600];
        for (int i = 0; line.Signal.Now < Long && !Silent; i++)
        {
            int count = Slots(i);
            levels((long)line.Signal.Now, slots.AsSpan(0, Math.Min(count, 512)));
            LineForm form = Form(i, usual);
            line.Levels(form, slots.AsSpan(0, count));
            After?.Invoke(i, line, form);
        }

        if (Silent)
        {
            line.Idle(Seconds * 1e6);
        }

        LineSignal signal = Other is { } other ? LineSignal.Together(line.Signal, other(rig)) : line.Signal;
        return new LineRecording(Rate, [new LineTrack("data +", signal) { IsInverted = Reversed }], 0, Long).Open();
    }
}
