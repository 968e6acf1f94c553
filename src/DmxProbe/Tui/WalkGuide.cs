using DmxProbe.Analysis.Walk;
using DmxProbe.Cli.Ask;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Tui;

/// <summary>
/// The guided function check: one unit after another in walking order, one key for each answer. What the person says goes
/// into a file of notes that <c>walk --notes</c> reads; what such a file says is taken up again. For the screen's thread.
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
    /// <param name="now">The moment.</param>
    public WalkGuide(WalkResult walk, IReadOnlyList<WalkNote> noted, AskLog? log, Timestamp now)
    {
        _log = log;
        _order = WalkReview.Order(walk);
        _targets = walk.Targets;
        _notes = [.. noted];
        _before = noted.Count;
        Turn(Open(-1), now);
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
        .. _notes.Skip(_before).Any(note => note.Look != WalkNote.WorkedOn) ? [BigKey.Letter('B', "take it back")] : Array.Empty<BigKey>(),
        new("→", "skip", new ScreenKey(KeyKind.Right)),
        new("←", "before", new ScreenKey(KeyKind.Left)),
        BigKey.Letter('D', "locate it"),
    ];

    /// <summary>Takes a key; false where it means nothing here.</summary>
    public bool Press(ScreenKey key, Timestamp now)
    {
        switch (key)
        {
            case { Letter: 'Y' or 'y' or 'N' or 'n' }:
                Note(Unit.Unit, key.Letter is 'Y' or 'y' ? WalkNote.AllRight : WalkNote.NotRight, now);
                Turn(Open(Place), now);
                return true;
            case { Letter: 'B' or 'b' }:
                TakeBack();
                return true;
            case { Kind: KeyKind.Right or KeyKind.Left }:
                Turn(Math.Clamp(Place + (key.Kind == KeyKind.Right ? 1 : -1), 0, _order.Count - 1), now);
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

    private void Turn(int place, Timestamp now)
    {
        Place = place;
        if (_notes.Count > _before && _notes[^1].Look == WalkNote.WorkedOn)
        {
            _notes.RemoveAt(_notes.Count - 1);
            _log?.TakeBack();
        }

        Note(Unit.Unit, WalkNote.WorkedOn, now);
    }

    // The answer and the turn to the next unit that came with it.
    private void TakeBack()
    {
        int last = _notes.FindLastIndex(note => note.Look != WalkNote.WorkedOn);
        if (last < _before)
        {
            return;
        }

        string unit = _notes[last].Unit;
        for (int left = _notes.Count; left > last; left--)
        {
            _log?.TakeBack();
        }

        _notes.RemoveRange(last, _notes.Count - last);
        Place = Enumerable.Range(0, _order.Count).First(place => _targets[_order[place]].Unit.Unit == unit);
    }

    private void Note(string unit, string look, Timestamp now)
    {
        _notes.Add(new WalkNote(now, unit, look));
        _log?.Write(unit, look, "", now);
    }
}
