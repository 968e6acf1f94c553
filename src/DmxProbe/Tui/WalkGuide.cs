using DmxProbe.Analysis.Walk;
using DmxProbe.Cli.Ask;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Tui;

/// <summary>
/// The guided function check: one unit after another in walking order, one key for each answer. What the person says goes
/// into a file of notes that <c>walk --notes</c> reads; what such a file says is taken up again. Opening it and looking at
/// units says nothing: only an answer is written. For the screen's thread.
/// </summary>
internal sealed class WalkGuide
{
    private readonly AskLog? _log;
    private readonly IReadOnlyList<int> _order;
    private readonly IReadOnlyList<WalkTarget> _targets;
    private readonly List<WalkNote> _notes;
    private int _before;

    /// <summary>Begins, with the first unit that nobody has said anything of.</summary>
    /// <param name="walk">What was moved so far.</param>
    /// <param name="noted">What was said before, oldest first.</param>
    /// <param name="log">Takes what is said; null: it is not kept.</param>
    public WalkGuide(WalkResult walk, IReadOnlyList<WalkNote> noted, AskLog? log)
    {
        _log = log;
        _order = WalkReview.Order(walk);
        _targets = walk.Targets;
        _notes = [.. noted];
        _before = noted.Count;
        Place = Open(-1);
    }

    /// <summary>Lets go of what was said up to now: others write into the same file, so it is not taken back any more.</summary>
    public void Seal() => _before = _notes.Count;

    /// <summary>What was said, oldest first.</summary>
    public IReadOnlyList<WalkNote> Notes => _notes;

    /// <summary>The file that keeps it; null where none does.</summary>
    public string? Log => _log?.Path;

    /// <summary>Place of the unit in walking order, from 0.</summary>
    public int Place { get; private set; }

    /// <summary>Index of the unit among the targets.</summary>
    public int Target => _order[Place];

    /// <summary>The unit.</summary>
    public PatchUnit Unit => _targets[Target].Unit;

    /// <summary>Whether every unit has been said something of.</summary>
    public bool IsDone => _targets.All(target => Verdict(target.Unit.Unit).Length > 0);

    /// <summary>Units of which the last word is this one.</summary>
    public int Count(string verdict) => _targets.Count(target => Verdict(target.Unit.Unit) == verdict);

    /// <summary>The last word about a unit; empty while there is none.</summary>
    public string Verdict(string unit) => _notes.LastOrDefault(note => note.Unit == unit && note.Look is WalkNote.AllRight or WalkNote.NotRight).Look ?? "";

    /// <summary>The keys that work now.</summary>
    public IReadOnlyList<BigKey> Keys() =>
    [
        BigKey.Letter('Y', "all right"),
        BigKey.Letter('N', "not right"),
        .. _notes.Count > _before ? [BigKey.Letter('B', "take it back")] : Array.Empty<BigKey>(),
        new("→", "the next unit", new ScreenKey(KeyKind.Right)) { IsRare = true },
        new("←", "the unit before", new ScreenKey(KeyKind.Left)) { IsRare = true },
        BigKey.Letter('D', "it does not follow: locate it") with { IsRare = true },
    ];

    /// <summary>Takes a key; false where it means nothing here.</summary>
    public bool Press(ScreenKey key, Timestamp now)
    {
        switch (key)
        {
            case { Letter: 'Y' or 'y' or 'N' or 'n' }:
                Note(Unit.Unit, key.Letter is 'Y' or 'y' ? WalkNote.AllRight : WalkNote.NotRight, now);
                Place = Open(Place);
                return true;
            case { Letter: 'B' or 'b' }:
                TakeBack();
                return true;
            case { Kind: KeyKind.Right or KeyKind.Left }:
                Place = Math.Clamp(Place + (key.Kind == KeyKind.Right ? 1 : -1), 0, _order.Count - 1);
                return true;
            default:
                return false;
        }
    }

    // The next unit nobody has said anything of, from the first again after the last; else the one that stands.
    private int Open(int after)
    {
        for (int step = 1; step <= _order.Count; step++)
        {
            int place = (after + step + _order.Count) % _order.Count;
            if (Verdict(_targets[_order[place]].Unit.Unit).Length == 0)
            {
                return place;
            }
        }

        return Math.Max(0, after);
    }

    // The last answer, and the turn to the next unit that came with it.
    private void TakeBack()
    {
        if (_notes.Count == _before)
        {
            return;
        }

        string unit = _notes[^1].Unit;
        _notes.RemoveAt(_notes.Count - 1);
        _log?.TakeBack();
        Place = Enumerable.Range(0, _order.Count).First(place => _targets[_order[place]].Unit.Unit == unit);
    }

    private void Note(string unit, string look, Timestamp now)
    {
        _notes.Add(new WalkNote(now, unit, look));
        _log?.Write(unit, look, "", now);
    }
}
