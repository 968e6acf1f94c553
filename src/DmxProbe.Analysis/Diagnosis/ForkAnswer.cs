using System.Globalization;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Diagnosis.Units;
using DmxProbe.Analysis.Survey;
using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Analysis.Diagnosis;

/// <summary>The first fork for one unit.</summary>
/// <param name="Unit">The unit.</param>
/// <param name="Fork">The answer.</param>
/// <param name="Text">The answer as a sentence, with the figures; names as they came.</param>
public sealed record ForkAnswer(string Unit, FirstFork Fork, string Text)
{
    /// <summary>Answers for a unit.</summary>
    public static ForkAnswer Of(UnitActivity unit, DiagnosisCase it)
    {
        ArgumentNullException.ThrowIfNull(unit);
        ArgumentNullException.ThrowIfNull(it);
        string name = unit.Watched.Unit.Unit;
        string place = Place(unit);
        bool network = it.Inputs.HasFlag(CauseInputs.Network);
        if (!it.Inputs.HasFlag(CauseInputs.Levels))
        {
            // A DMX line carries no number: which universe it is, a person has to say.
            string line = it.Survey.Universes.FirstOrDefault(known => known.Id.Protocol is UniverseProtocol.Line or UniverseProtocol.Serial) is { } known
                ? Say($"; if {known.Id.Label} is its universe, say so with --map {unit.Watched.Unit.Universe}={known.Id.Label.Replace(' ', ':')}") : "";
            return new ForkAnswer(name, FirstFork.CannotTell, $"Whether the wire carries {name} is not to be seen here: a network capture is needed, with its universes{line}.");
        }

        if (!network && unit.Universe is null)
        {
            return new ForkAnswer(name, FirstFork.CannotTell, Say($"{name} is on universe {unit.Watched.Unit.Universe} of the sheet, and no line here was said to be that (--map)."));
        }

        if (unit.Universe is not { } wire)
        {
            return it.UnclearUniverses.Contains(unit.Watched.Unit.Universe)
                ? new ForkAnswer(name, FirstFork.CannotTell, Say($"Universe {unit.Watched.Unit.Universe} of the sheet may be several universes of this input; say which with --map."))
                : it.IsTooShort ? new ForkAnswer(name, FirstFork.CannotTell, Say($"Universe {unit.Watched.Unit.Universe} of the sheet, on which {name} is, has not come yet; the capture is too short to tell."))
                : new ForkAnswer(name, FirstFork.NotSent, Say($"Nobody sends universe {unit.Watched.Unit.Universe} of the sheet, on which {name} is."));
        }

        UniverseSummary? summary = it.Summary(wire);
        if (summary is null || unit.Sender is null)
        {
            return new ForkAnswer(name, FirstFork.NotSent, $"{wire.Label} carries no levels: nothing tells {name} what to do.");
        }

        if (unit.Slots.Count < unit.Watched.Footprint)
        {
            return new ForkAnswer(name, FirstFork.NotSent, Say($"{name} needs slots up to {unit.Watched.Unit.Address + unit.Watched.Footprint - 1}, but {wire.Label} carries {unit.SlotsSent}."));
        }

        // Whoever decides at the end, or nearly so: a short hand-over is no contest.
        if (summary.Obeyed.Count > 0 && summary.Obeyed[^1] is { Senders.Count: > 1 } shared && (shared.To - shared.From).TotalSeconds > 3)
        {
            return new ForkAnswer(name, FirstFork.Contested, Say($"{shared.Senders.Count} senders of {wire.Label} decide {name} together: what it reads is the receiver's choice."));
        }

        long moved = unit.Slots.Where((slot, index) => slot.Changes > 0 && Counts(unit, index)).Count();
        if (moved == 0)
        {
            return new ForkAnswer(name, FirstFork.StandsStill, Say($"The wire carries {name} ({place}, {unit.Watched.Footprint} slots of {wire.Label}), but none of its slots moves in {unit.Followed.TotalSeconds:0.#} s: the controller does not move it."));
        }

        return new ForkAnswer(name, FirstFork.Carries, Say($"The wire carries {name}: {moved} of its {unit.Watched.Footprint} slots from {place} move, {unit.Changes} changes in {unit.Followed.TotalSeconds:0.#} s."));
    }

    private static string Place(UnitActivity unit) => Say($"{unit.Watched.Unit.Universe}.{unit.Watched.Unit.Address:000}");

    // A slot without a function may move by itself (a neighbour's data); it is not the unit moving.
    private static bool Counts(UnitActivity unit, int index) => unit.Watched.Mode?.Find(index + 1)?.Role != SlotRole.None;

    private static string Say(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
