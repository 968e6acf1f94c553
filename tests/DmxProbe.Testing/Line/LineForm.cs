namespace DmxProbe.Testing.Line;

/// <summary>How packets are timed; figures in microseconds. The defaults are legal and common.</summary>
public sealed record LineForm
{
    /// <summary>Break.</summary>
    public double Break { get; init; } = 176;

    /// <summary>Mark after break.</summary>
    public double MarkAfterBreak { get; init; } = 12;

    /// <summary>One bit.</summary>
    public double Bit { get; init; } = 4;

    /// <summary>Stop bits; two are right.</summary>
    public int StopBits { get; init; } = 2;

    /// <summary>Mark between slots beyond the stop bits.</summary>
    public double InterSlot { get; init; }

    /// <summary>Mark after the last slot.</summary>
    public double MarkBeforeBreak { get; init; } = 200;

    /// <summary>Single low bit less single high bit; rising edges come half of it late.</summary>
    public double Skew { get; init; }

    /// <summary>Each edge moves by at most this much either way.</summary>
    public double Jitter { get; init; }

    /// <summary>Chance of a glitch after a slot.</summary>
    public double GlitchChance { get; init; }

    /// <summary>Width of a glitch.</summary>
    public double GlitchWidth { get; init; } = 0.3;

    /// <summary>Chance that the stop bits of a slot are lost.</summary>
    public double LostStopChance { get; init; }
}
