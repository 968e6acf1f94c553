using System.Globalization;
using DmxProbe.Analysis.Diagnosis.Units;
using DmxProbe.Analysis.Survey;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Diagnosis;

/// <summary>
/// What units may share by what they are told: one condition, one moment at which they changed, one function. Pure; for
/// <see cref="UnitGrouping"/>, which weighs them.
/// </summary>
internal static class UnitLabels
{
    private const double LeastTold = 5;
    private const double LeastStill = 10;
    private const int LeastChanges = 3;
    private static readonly Duration Together = Duration.FromSeconds(3);

    // A look may come a second after the change on universes that nobody complains of.
    private static readonly Duration Around = Duration.FromSeconds(4);

    private static readonly (UnitConditions Condition, string Cause, string Told, string Began)[] Conditions =
    [
        (UnitConditions.StrobeRuns, "strobe-left-on", "told to strobe", "were told to strobe"),
        (UnitConditions.StrobeWithoutLight, "strobe-without-light", "told to strobe without light", "were told to strobe without light"),
        (UnitConditions.ShutterShut, "shutter-closed", "told to close the shutter", "were told to close the shutter"),
        (UnitConditions.MasterDown, "master-down", "told a colour with the dimmer at 0", "had their dimmer taken to 0"),
        (UnitConditions.ColoursDown, "colours-down", "told every colour at 0", "had every colour taken to 0"),
        (UnitConditions.ColoursOverridden, "colours-overridden", "under a colour macro", "came under a colour macro"),
        (UnitConditions.ProgrammeRuns, "programme-runs", "told to run a programme of their own", "were told to run a programme of their own"),
        (UnitConditions.BeamClosed, "beam-closed", "told to close something in the beam", "were told to close something in the beam"),
        (UnitConditions.ControlAction, "control-action", "told to reset, or another control function", "were told to reset, or another control function"),
        (UnitConditions.Dark, "told-dark", "told to be dark", "were told to be dark"),
    ];

    private static readonly (SlotRole[] Roles, string Name)[] Functions =
    [
        ([SlotRole.Intensity], "dimmer"),
        ([SlotRole.Red, SlotRole.Green, SlotRole.Blue, SlotRole.White, SlotRole.Amber, SlotRole.UltraViolet, SlotRole.OtherEmitter], "colour"),
        ([SlotRole.Shutter], "shutter or strobe"),
        ([SlotRole.Position], "movement"),
        ([SlotRole.Speed], "speed"),
        ([SlotRole.Programme], "macro or programme"),
        ([SlotRole.Beam], "beam"),
        ([SlotRole.Control], "control"),
    ];

    // Functions that a whole look may set alike by mistake; equal dimmers and colours are what a look is.
    private static readonly HashSet<SlotRole> Settings = [SlotRole.Shutter, SlotRole.Speed, SlotRole.Programme, SlotRole.Beam, SlotRole.Control];

    /// <summary>Everything that units may share by what they are told.</summary>
    /// <param name="units">All units, with what they were told.</param>
    /// <param name="survey">What happened on the wire.</param>
    /// <param name="isBad">Whether a unit is called bad.</param>
    public static IEnumerable<UnitGroup> Of(IReadOnlyList<UnitActivity> units, SurveySnapshot survey, Func<string, bool> isBad) =>
        Told(units).Concat(Moments(units, survey, isBad)).Concat(ByFunction(units));

    private static IEnumerable<UnitGroup> Told(IReadOnlyList<UnitActivity> units) =>
        from condition in Conditions
        select Group(
            UnitGroupKind.Told,
            "all " + condition.Told,
            units.Where(unit => Held(unit, condition.Condition) is { } span && span.Longest.TotalSeconds >= LeastTold && (span.HeldAtEnd || span.Total.TotalSeconds * 2 >= unit.Followed.TotalSeconds)),
            AllCauses.Find(condition.Cause)?.Card.Check);

    // Each kind of change: the window that begins with a bad unit's change.
    private static IEnumerable<UnitGroup> Moments(IReadOnlyList<UnitActivity> units, SurveySnapshot survey, Func<string, bool> isBad)
    {
        IReadOnlyList<WireMoment> wire = WireMoments.Of(survey);
        IEnumerable<(string Text, (UnitActivity Unit, Timestamp At)[] Changes)> kinds = Conditions
            .Select(condition => (condition.Began, Changes: units.SelectMany(unit => Began(unit, condition.Condition) is Timestamp at ? [(unit, at)] : Array.Empty<(UnitActivity, Timestamp)>()).ToArray()))
            .Append(("stopped moving", [.. units.Where(unit => unit.Changes >= LeastChanges && unit.LastChange is { } at && Later(survey, unit) - at > Duration.FromSeconds(LeastStill)).Select(unit => (unit, unit.LastChange!.Value))]));
        foreach ((string text, (UnitActivity Unit, Timestamp At)[] changes) in kinds)
        {
            foreach (Timestamp from in changes.Where(change => isBad(change.Unit.Watched.Unit.Unit)).Select(change => change.At).Distinct())
            {
                (UnitActivity Unit, Timestamp At)[] inside = [.. changes.Where(change => change.At >= from && change.At - from <= Together)];
                Timestamp to = inside.Max(change => change.At);
                WireMoment[] then = [.. wire.Where(moment => moment.Time + Around >= from && moment.Time <= to + Around)];
                string within = to == from ? "at the same moment" : string.Create(CultureInfo.InvariantCulture, $"within the same {(to - from).TotalSeconds:0.0} s");
                yield return Group(UnitGroupKind.Moment, $"all those that {text} {within}", inside.Select(change => change.Unit), then.Length > 0
                    ? new NextCheck($"Ask what was done then: {then[0].Text}.", 20)
                    : new NextCheck("Ask what was done at that moment: a cue, a plug, a restart.", 20)) with
                {
                    At = from,
                    Then = then,
                };
            }
        }
    }

    private static IEnumerable<UnitGroup> ByFunction(IReadOnlyList<UnitActivity> units)
    {
        UnitActivity[] known = [.. units.Where(unit => unit.Watched.Mode is not null)];
        foreach ((SlotRole[] roles, string name) in Functions)
        {
            NextCheck check = new($"Look what sets the {name} slots of these units at the controller: a master, an effect, a profile.", 30);
            yield return Group(UnitGroupKind.Function, $"all with a {name} slot", known.Where(unit => At(unit, roles).Any()), check);
            yield return Group(UnitGroupKind.Function, $"all whose {name} slots move", known.Where(unit => At(unit, roles).Any(slot => slot.Activity.Changes > 0)), check);
            if (!Settings.Contains(roles[0]))
            {
                continue;
            }

            var standing = known.SelectMany(unit => At(unit, roles).Where(slot => slot.Activity.Changes == 0).Select(slot => (Unit: unit, slot.Activity.Value)));
            foreach (var same in standing.GroupBy(each => each.Value))
            {
                yield return Group(UnitGroupKind.Function, string.Create(CultureInfo.InvariantCulture, $"all whose {name} slot stands at {same.Key}"), same.Select(each => each.Unit).Distinct(), check);
            }
        }
    }

    private static IEnumerable<(ChartSlot Slot, SlotActivity Activity)> At(UnitActivity unit, SlotRole[] roles) =>
        unit.Watched.Mode!.Slots.Where(slot => roles.Contains(slot.Role) && slot.Slot <= unit.Slots.Count).Select(slot => (slot, unit.Slots[slot.Slot - 1]));

    private static ConditionSpan? Held(UnitActivity unit, UnitConditions condition) =>
        unit.Of(condition) is { Condition: not UnitConditions.None } span ? span : null;

    // What held from the start has no moment, and what came and went with the show is none either.
    private static Timestamp? Began(UnitActivity unit, UnitConditions condition) =>
        Held(unit, condition) is { HeldAtEnd: true } span && span.First - unit.First > Together && span.Total == span.Longest && span.Longest.TotalSeconds >= LeastTold ? span.First : null;

    private static Timestamp Later(SurveySnapshot survey, UnitActivity unit) => survey.Last is { } last && last > unit.Last ? last : unit.Last;

    private static UnitGroup Group(UnitGroupKind kind, string text, IEnumerable<UnitActivity> members, NextCheck? check) =>
        new(kind, text, 0, [.. members.Select(unit => unit.Watched.Unit.Unit)], check);
}
