using DmxProbe.Analysis.Decoding;
using DmxProbe.Testing.Line;
using DmxProbe.Testing.Network;

namespace DmxProbe.Testing.Diagnosis;

/// <summary>Causes put into a line.</summary>
internal static class LineInjections
{
    private static readonly UniverseProtocol[] OnLine = [UniverseProtocol.Line];

    /// <summary>The ways.</summary>
    public static IReadOnlyList<FaultInjection> List { get; } =
    [
        Form("break-short", (mild, index, form) => form with { Break = mild ? (index % 2 == 0 ? 91 : form.Break) : 80 }),
        Form("mark-after-break-short", (mild, index, form) => form with { MarkAfterBreak = mild ? (index % 2 == 0 ? 10 : form.MarkAfterBreak) : 6 }),
        Form("mark-after-break-long", (mild, _, form) => form with { MarkAfterBreak = mild ? 1_400 : 9_000 }),
        Form("bit-rate-off", (mild, _, form) => form with { Bit = mild ? 4.12 : 4.2 }),
        Form("gaps-inside-packets", (mild, index, form) => form with { InterSlot = mild ? (index % 3 == 0 ? 250 : form.InterSlot) : 400 }, slots: 60),
        Form("no-idle-between-packets", (mild, _, form) => form with { MarkBeforeBreak = mild ? 12 : 1 }),
        Form("one-leg-open", (mild, _, form) => form with { Skew = mild ? 0.75 : 1.3 }),
        Form("framing-errors", (mild, _, form) => form with { LostStopChance = mild ? 0.0008 : 0.004 }),
        Form("line-silences", (mild, index, form) => form with { MarkBeforeBreak = index == 20 ? (mild ? 1_100_000 : 1_400_000) : form.MarkBeforeBreak }),
        Form("refresh-slow", (mild, _, form) => form with { MarkBeforeBreak = mild ? 110_000 : 300_000 }),
        Of("packets-too-close", (line, mild) =>
        {
            line.Slots = _ => mild ? 20 : 8;
            line.Form = (_, form) => form with { MarkBeforeBreak = 10, Break = 120 };
        }),
        Of("slot-count-varies-on-line", (line, mild) => line.Slots = index => index % (mild ? 10 : 2) == 1 ? 300 : 512),
        Of("more-than-512-slots-on-line", (line, mild) => line.Slots = _ => mild ? 513 : 530),
        Of("reversed-pair", (line, _) => line.Reversed = true),
        Of("line-silent", (line, _) => line.Silent = true),
        Of("two-transmitters", (line, mild) => line.Other = rig =>
        {
            LineSynthesiser other = new(rig.Seed + 3);
            LineForm form = new() { MarkBeforeBreak = mild ? 9_000 : 2_000, Break = 130 };
            byte[] slots = new byte[512];
            other.Idle(1_137);
            while (other.Signal.Now < 2e9)
            {
                Levels.Steps(rig.Seed, 500_000_000)((long)other.Signal.Now, slots);
                other.Levels(form, slots);
            }

            return other.Signal;
        }),
        Of("alternate-start-code", (line, mild) => line.After = (index, synthesiser, form) =>
        {
            if (index % (mild ? 20 : 2) == 1)
            {
                synthesiser.Packet(form, [0x17, 1, 2, .. Enumerable.Repeat((byte)0x41, 40)]);
            }
        }),
        Of("rdm-damaged", (line, mild) => line.After = (index, synthesiser, form) =>
        {
            if (index % (mild ? 20 : 5) == 2)
            {
                byte[] packet = RdmOctets.GetStartAddress(0x7FF000000001, 0x7FF000000002);
                packet[^1] ^= 0x5A;
                synthesiser.Packet(form with { Break = 200, MarkAfterBreak = 20, MarkBeforeBreak = 4_000 }, packet);
            }
        }),
    ];

    private static FaultInjection Form(string id, Func<bool, int, LineForm, LineForm> change, int slots = 512) => Of(id, (line, mild) =>
    {
        line.Form = (index, form) => change(mild, index, form);
        line.Slots = _ => slots;
    });

    private static FaultInjection Of(string id, Action<FaultLine, bool> change) => new(id, OnLine, (rig, mild) =>
    {
        rig.Line ??= new FaultLine();
        change(rig.Line, mild);
    });
}
