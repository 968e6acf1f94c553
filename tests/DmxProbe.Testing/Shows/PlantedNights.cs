namespace DmxProbe.Testing.Shows;

/// <summary>
/// Two nights of one show with 20 differences planted, of every kind, and much that must not be told: the operator is up to 3 s
/// early or late, effects run, the second night begins a day and 7 minutes later, and a level is 2 of 255 off.
/// </summary>
public static class PlantedNights
{
    private const int Dimmer = 0;
    private const int Red = 1;
    private const int White = 4;
    private const int Pan = 5;
    private const int Zoom = 9;
    private const int Shutter = 10;
    private static readonly (int Cue, double At) ExtraLook = WhereThereIsTime();

    /// <summary>Last night.</summary>
    public static ShowPlan Last { get; } = Plan(1) with
    {
        Edits =
        [
            new ShowEdit(3) { Levels = (_, _, slots) => Hold(slots, 2) },
            new ShowEdit(6) { SecondSender = new byte[512] },
            new ShowEdit(9) { IsSilent = true },
        ],
    };

    /// <summary>Tonight.</summary>
    public static ShowPlan Tonight { get; } = Plan(2) with
    {
        Start = Last.Start + Protocols.Records.Duration.FromSeconds(86_820),
        Skipped = new HashSet<int> { 33, 50 },
        Edits =
        [
            new ShowEdit(1)
            {
                Levels = (cue, _, slots) =>
                {
                    Hold(slots, 4);
                    Shift(slots, 19, Dimmer, cue is >= 10 and <= 12 ? 40 : 0);
                },
            },
            new ShowEdit(2)
            {
                Priority = 150,
                Levels = (cue, _, slots) =>
                {
                    Hold(slots, 9);
                    Shift(slots, 29, Zoom, cue is >= 20 and <= 22 ? 25 : 0);
                },
            },
            new ShowEdit(3) { SlotCount = 500 },
            new ShowEdit(4)
            {
                Loss = 0.02,
                Levels = (cue, _, slots) =>
                {
                    Shift(slots, 0, Red, cue >= 40 ? 60 : 0);
                    for (int unit = 6; unit < 12; unit++)
                    {
                        Shift(slots, unit, Pan, cue == 25 ? 33 : 0);
                    }
                },
            },
            new ShowEdit(5)
            {
                RateHz = 30,
                Levels = (cue, _, slots) =>
                {
                    Shift(slots, 1, Shutter, cue is >= 42 and <= 44 ? 255 : 0);
                    Shift(slots, 32, White, cue == 45 ? 3 : 0);
                    Shift(slots, 33, White, cue == 45 ? 2 : 0);
                },
            },
            new ShowEdit(6) { Levels = Extra },
            new ShowEdit(7) { SecondSender = new byte[512] },
            new ShowEdit(8) { IsSilent = true },
        ],
    };

    /// <summary>The planted differences: kind, subject, cue from which (-1 for the whole night).</summary>
    public static IReadOnlyList<(string Kind, string Subject, int Cue)> Planted { get; } =
    [
        ("UniverseMissing", "sACN 8", -1),
        ("UniverseNew", "sACN 9", -1),
        ("SenderMissing", "controller 91 (10.30.0.91)", -1),
        ("SenderNew", "controller 91 (10.30.0.91)", -1),
        ("UnitStill", "U1-05", -1),
        ("UnitStill", "U2-10", -1),
        ("UnitMovesNow", "U3-03", -1),
        ("Levels", "U1-20", 10),
        ("Levels", "U2-30", 20),
        ("Levels", "U4-07 U4-08 U4-09 U4-10 U4-11 U4-12", 25),
        ("Levels", "U4-01", 40),
        ("Levels", "U5-02", 42),
        ("Levels", "U5-33", 45),
        ("CueMissing", "", 33),
        ("CueMissing", "", 50),
        ("CueExtra", "U6-15", ExtraLook.Cue),
        ("Rate", "sACN 5", -1),
        ("Loss", "sACN 4", -1),
        ("SlotCount", "sACN 3", -1),
        ("Priority", "sACN 2", -1),
    ];

    private static ShowPlan Plan(ulong night) => new()
    {
        Show = 5,
        Night = night,
        Universes = 9,
        Seconds = 1_100,
        OperatorSeconds = 3,
        ShortestGap = 12,
        MeanGap = 5,
        Effects = 0.02,
    };

    // From 2 s after the fade of a cue for 4 s, with 2 s behind it.
    private static (int Cue, double At) WhereThereIsTime()
    {
        IReadOnlyList<(double At, double Fade)> cues = new CueList(Plan(2)).Cues;
        int cue = Enumerable.Range(28, 10).First(each => cues[each + 1].At - cues[each].At > cues[each].Fade + 8);
        return (cue, cues[cue].At + cues[cue].Fade + 2);
    }

    private static void Extra(int cue, double seconds, Span<byte> slots)
    {
        if (cue == ExtraLook.Cue && seconds >= ExtraLook.At && seconds < ExtraLook.At + 4)
        {
            slots.Slice(14 * ShowRig.Footprint, 5).Fill(201);
        }
    }

    private static void Hold(Span<byte> slots, int unit)
    {
        for (int slot = 0; slot < ShowRig.Footprint; slot++)
        {
            slots[(unit * ShowRig.Footprint) + slot] = (byte)(40 + slot);
        }
    }

    // Towards the middle, so that it is never cut off: the distance is what was asked.
    private static void Shift(Span<byte> slots, int unit, int slot, int by)
    {
        ref byte level = ref slots[(unit * ShowRig.Footprint) + slot];
        level = (byte)(level >= 128 ? level - by : level + by);
    }
}
