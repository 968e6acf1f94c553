using DmxProbe.Analysis.Locate;
using DmxProbe.Analysis.Walk;
using DmxProbe.Cli;
using DmxProbe.Cli.Ask;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;

namespace DmxProbe.Tui;

/// <summary>The guided screens: which is open, and what they begin from. For the screen's thread.</summary>
/// <param name="sheet">The sheet; null: only a guide that is given can be shown.</param>
/// <param name="log">Takes what is answered; null: it is not kept.</param>
/// <param name="zone">The zone of times of day in it.</param>
/// <param name="clock">The clock of answers.</param>
/// <param name="work">Runs what takes longer; null: at once.</param>
/// <param name="wire">Tells what is really sent; null: what was asked for counts as sent.</param>
internal sealed class ScreenGuides(SheetInUse? sheet, AskLog? log, TimeZoneInfo zone, TimeProvider clock, Action<Action>? work = null, IAskWire? wire = null)
{
    /// <summary>Runs what takes longer on a thread of its own.</summary>
    public static void Apart(Action step) => _ = Task.Run(step);

    /// <summary>Whether what is shown is a recording, in which nothing can be moved.</summary>
    public bool IsRecording { get; init; }

    /// <summary>Reads the levels of the whole recording, as <c>locate</c> does; null: those of the picture are all there are.</summary>
    public Func<IReadOnlyList<SlotHistory>>? Recorded { get; init; }

    /// <summary>Whether there is a sheet to go by.</summary>
    public bool HasSheet => sheet is not null;

    /// <summary>The guided questions; null where none are open.</summary>
    public LocateGuide? Locate { get; private set; }

    /// <summary>The function check; null before it began.</summary>
    public WalkGuide? Walk { get; private set; }

    /// <summary>First row of words shown.</summary>
    public int Top { get; set; }

    /// <summary>Goes up with whatever changes what is shown.</summary>
    public int Version => Locate?.Version ?? 0;

    /// <summary>Opens a guide that was begun elsewhere.</summary>
    public void Open(LocateGuide guide) => Locate = guide;

    /// <summary>Begins to locate a unit from what is heard now, or goes on with it.</summary>
    public void Begin(PatchUnit unit, RigPicture picture)
    {
        Top = 0;
        Walk?.Seal();
        if (Locate is null || Locate.Unit != unit.Unit || Locate.Problem.Length > 0)
        {
            // A recording's levels are looked up on this thread only.
            List<SlotHistory> held = Recorded is null ? Held(picture) : [];
            Locate = new LocateGuide(unit.Unit, () => Gather(unit, picture, Recorded?.Invoke() ?? held), null, log, clock, work ?? (step => step()), wire) { IsRecording = IsRecording };
        }
    }

    /// <summary>Leaves the questions. Answers that are kept are taken up from there again; others stay as they are.</summary>
    public void Leave()
    {
        Top = 0;
        if (log is not null && Locate is { IsBusy: false })
        {
            Locate = null;
        }
    }

    /// <summary>Begins the function check, or goes on with it.</summary>
    /// <exception cref="UsageException">The file of notes is none, or of another sheet.</exception>
    public void Check(RigPicture picture)
    {
        Top = 0;
        if (Walk is null && picture.Walk is WalkResult walk)
        {
            IReadOnlyList<WalkNote> before = log is { Exists: true } ? NotesFile.Read(log.Path, sheet!.Patch, picture.Survey.First ?? picture.At, zone) : [];
            Walk = new WalkGuide(walk, before, log);
        }
    }

    /// <summary>The levels that a picture holds, as what stands.</summary>
    internal static List<SlotHistory> Held(RigPicture picture)
    {
        List<SlotHistory> histories = [];
        foreach (UniversePicture universe in picture.Universes)
        {
            foreach (SenderPicture sender in universe.Senders)
            {
                if (sender.Recent is { Levels.Length: > 0 } recent)
                {
                    SlotHistory held = new(universe.Summary.Id, sender.Stream.Sender.Index, picture.At);
                    held.Record(0, recent.Levels);
                    histories.Add(held);
                }
            }
        }

        return histories;
    }

    private LocateGathered Gather(PatchUnit unit, RigPicture picture, IReadOnlyList<SlotHistory> histories)
    {
        List<ChartMode> modes = LocateRun.LightModes(sheet!.Charts, unit, null);
        if (histories.Count == 0 || picture.Map is not UniverseMap map)
        {
            throw new UsageException("no levels are heard, so nothing can be compared with the light: listen where the lighting network passes");
        }

        LocateGathered gathered = LocateGathered.Of(LocateRun.CaseOf(sheet.Patch, sheet.Charts, unit, modes, null, histories, map, picture.Survey, null), map);
        gathered.Shared = SharedUniverses.Of(picture.Survey);
        gathered.Show(new WallClock(zone, picture.Survey.First, picture.Survey.Last).Time);
        if (log is { Exists: true })
        {
            using StreamReader text = TextFile.Open(log.Path);
            gathered.AddNotes(text, log.Path, zone, picture.Survey.First ?? picture.At, mayBeEmpty: true);
        }

        return gathered;
    }
}
