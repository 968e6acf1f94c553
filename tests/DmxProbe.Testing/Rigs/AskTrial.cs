using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Locate;
using DmxProbe.Analysis.Locate.Ask;
using DmxProbe.Fixtures.Addressing;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Light;

namespace DmxProbe.Testing.Rigs;

/// <summary>One simulated person in front of one simulated light: guided questions from beginning to end.</summary>
/// <param name="IsRight">The place claimed is the truth, or cannot be told from it.</param>
/// <param name="IsWrong">A claim that is not.</param>
/// <param name="End">How it ended.</param>
/// <param name="Looks">Questions answered, the confirming look too.</param>
/// <param name="Seconds">What they cost.</param>
/// <param name="PriorBits">How surprising the truth was before the first question, bits.</param>
public sealed record AskTrial(bool IsRight, bool IsWrong, AskEnd End, int Looks, double Seconds, double PriorBits)
{
    /// <summary>
    /// The four modes of the ranges row: one dimmer; red, green, blue; dimmer first; dimmer sixth behind four colours and a slot
    /// without function. None has a slot that could hurt, so nothing stands in the way of a range.
    /// </summary>
    public static IReadOnlyList<ChartMode> FourModes { get; } = ChartReader.Read("par", new StringReader(
        """
        mode,slot,function,from,to,meaning
        1 slot,1,Dimmer,0,255,0-100%
        3 slot,1,Red,0,255,0-100%
        3 slot,2,Green,0,255,0-100%
        3 slot,3,Blue,0,255,0-100%
        4 slot,1,Dimmer,0,255,0-100%
        4 slot,2,Red,0,255,0-100%
        4 slot,3,Green,0,255,0-100%
        4 slot,4,Blue,0,255,0-100%
        6 slot,1,Red,0,255,0-100%
        6 slot,2,Green,0,255,0-100%
        6 slot,3,Blue,0,255,0-100%
        6 slot,4,White,0,255,0-100%
        6 slot,5,Reserved,0,255,No function
        6 slot,6,Dimmer,0,255,0-100%
        """)).Chart!.Modes;

    /// <summary>A rig of three universes on which everything may be raised: nothing is on the sheet, and somebody said so.</summary>
    public static (AskRig Rig, AskSafety Safety) Open(IReadOnlyList<ChartMode> modes, int universes = 3)
    {
        AskSpace space = new([.. Enumerable.Range(1, universes).Select(number => new UniverseId(UniverseProtocol.Sacn, number))], modes);
        AskRig rig = new(space, "X", [], [.. Enumerable.Range(1, universes)], [.. Enumerable.Range(0, universes).Select(_ => new byte[SlotHistory.SlotCount])]);
        AskSafety safety = new(rig);
        for (int u = 0; u < universes; u++)
        {
            safety.Clear(u);
        }

        return (rig, safety);
    }

    /// <summary>A place drawn evenly from all at which the mode fits into the universe.</summary>
    public static AskPlace Anywhere(AskSpace space, RigRandom random)
    {
        int mode = random.Below(space.Modes.Count);
        return new AskPlace(random.Below(space.Universes.Count), 1 + random.Below(SlotHistory.SlotCount + 1 - space.Modes[mode].Footprint), mode);
    }

    /// <summary>A place by the generator's own human errors, and the prior that the inference has of the same unit.</summary>
    public static (AskPlace Truth, double[] Prior) Erring(AskSpace space, RigRandom random)
    {
        while (true)
        {
            RigPlan plan = new(random, dense: false);
            RigUnit[] sheet = [.. plan.Units.Where(unit => unit.OnSheet)];
            RigUnit unit = random.Pick(sheet) with { Mode = space.Modes[0] };
            int mode = random.Chance(0.2) ? 1 + random.Below(space.Modes.Count - 1) : 0;
            (int universe, int address) = RigFault.Draw(unit, plan, random);
            if (address + space.Modes[mode].Footprint - 1 > SlotHistory.SlotCount)
            {
                continue;
            }

            OtherAddress[] others = [.. sheet.Where(other => other.Name != unit.Name).Select(other => new OtherAddress(other.Name, other.Universe + 1, other.Address))];
            (AskPlace, double)[] likely =
            [
                .. HumanErrors.Candidates(unit.Universe + 1, unit.Address, unit.Mode.Footprint, others, [.. space.Modes.Skip(1).Select(each => each.Name)])
                    .Where(candidate => candidate.Universe is >= 1 and <= RigPlan.Captured)
                    .Select(candidate => (new AskPlace(candidate.Universe - 1, candidate.Address, candidate.Mode is null ? 0
                        : space.Modes.ToList().FindIndex(each => each.Name == candidate.Mode)), candidate.Weight)),
            ];
            return (new AskPlace(universe, address, mode), AskPrior.Of(space, likely));
        }
    }

    /// <summary>Asks until the session ends.</summary>
    /// <param name="prior">The prior.</param>
    /// <param name="safety">What may be raised.</param>
    /// <param name="planner">What the controller can do.</param>
    /// <param name="space">The places.</param>
    /// <param name="truth">What the light reads.</param>
    /// <param name="eyeError">How often the person errs.</param>
    /// <param name="random">Chance.</param>
    /// <param name="before">What is known before the questions; null = nothing.</param>
    public static AskTrial Run(
        double[] prior, AskSafety safety, IAskPlanner planner, AskSpace space, AskPlace truth, double eyeError, RigRandom random, IReadOnlyList<AskEvidence>? before = null)
    {
        AskPosterior posterior = new(space, prior);
        foreach (AskEvidence piece in before ?? [])
        {
            posterior.Add(piece);
        }

        AskSession session = new(posterior, safety, planner);
        while (session.Next() is AskQuestion question)
        {
            LightOutput light = space.Light(truth.Address, truth.Mode, question.Levels[truth.Universe]);
            bool lit = light.Predictable ? light.Luminance > 0.03 : random.Chance(0.5);
            session.Answer(question, lit != random.Chance(eyeError) ? Seen.Lit : Seen.Dark, "", null);
        }

        AskStanding standing = AskStanding.Of(posterior);
        bool claims = session.End is AskEnd.Confirmed or AskEnd.NoConfirmingLook;
        bool right = standing.Members.Contains(space.IndexOf(truth)) && (standing.Best == space.IndexOf(truth) || !standing.IsSingle);
        return new AskTrial(claims && right, claims && !right, session.End, session.Answered, session.Seconds, -Math.Log2(prior[space.IndexOf(truth)]));
    }
}
