using System.Globalization;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Diagnosis;
using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Locate;
using DmxProbe.Testing.Diagnosis;

namespace DmxProbe.Benchmarks;

/// <summary>
/// How well faults are named: <c>diagnose-table [--seeds N] [--first-seed S] [--pairs N] [--healthy N] [--only ID] [--light]</c>. Every
/// cause is put alone into healthy rigs, mildly and grossly, over each protocol; then pairs; then healthy rigs. With --light
/// instead those that only the light of a unit tells. Settled on seeds from 1 on, reported on seeds from 2,000,000 on.
/// </summary>
internal static class DiagnoseTable
{
    private const int TopOne = 1;
    private const int TopThree = 3;
    private const int TopFour = 4;
    private const int MostDraws = 200;

    // Why rigs that were drawn do not count, by reason: known before anything is diagnosed.
    private static readonly Dictionary<string, int> LeftOut = [];

    // Told by the light: whether what came first was claimed; and what locate claimed where something else came first.
    private static readonly Dictionary<bool, int> RightBy = [];
    private static readonly Dictionary<LocateClaim, int> MissedAt = [];

    public static int Run(string[] arguments)
    {
        int seeds = Arguments.Number(arguments, "--seeds", 10);
        int first = Arguments.Number(arguments, "--first-seed", 2_000_000);
        int pairs = Arguments.Number(arguments, "--pairs", 500);
        int healthy = Arguments.Number(arguments, "--healthy", 500);
        string? only = Arguments.Word(arguments, "--only");
        Console.WriteLine(Invariant($"seeds from {first} on; {AllCauses.List.Count(cause => cause is not PersonCause)} causes that inputs decide, {FaultInjections.All.Select(each => each.Id).Distinct().Count()} of them put in"));
        if (arguments.Contains("--light"))
        {
            Single(LightInjections.List, "Alone, told by the light of the unit (colour, 59 s, 15 dB over its noise).", seeds, first + 100_000, only, careless: false, isLight: true);
            Console.WriteLine();
            Console.WriteLine(Invariant($"Named first by a claim of locate {RightBy.GetValueOrDefault(true)}, as a possible cause {RightBy.GetValueOrDefault(false)}; not named first: {string.Join(", ", MissedAt.OrderByDescending(pair => pair.Value).Select(pair => $"{pair.Key} {pair.Value}"))}"));
            RightUnits(seeds, first + 900_000);
            Console.WriteLine(Invariant($"Drawn and left out: {string.Join("; ", LeftOut.OrderByDescending(pair => pair.Value).Select(pair => $"{pair.Key} {pair.Value}"))}"));
            return 0;
        }

        Single(FaultInjections.All, "Alone.", seeds, first, only, careless: false);
        if (only is null)
        {
            Single(FaultInjections.All, "Alone, and the complaint is careless: one unit that is right is named, one that is wrong left out.", Math.Max(1, seeds / 2), first + 300_000, only, careless: true);
            Pairs(pairs, first + 500_000);
            Healthy(healthy, first + 700_000);
        }

        return 0;
    }

    // A careless complaint names a unit that is right and, of several, leaves one out.
    private static void Careless(FaultRig rig)
    {
        if (rig.Bad.Count == 0)
        {
            return;
        }

        if (rig.Bad.Count > 1)
        {
            rig.Bad.RemoveAt((int)rig.Random.Next(0, rig.Bad.Count));
        }

        string[] others = [.. rig.Units.Select(unit => unit.Unit).Where(name => !rig.Bad.Contains(name))];
        rig.Bad.Add(others[(int)rig.Random.Next(0, others.Length)]);
    }

    private static void Single(IReadOnlyList<FaultInjection> injections, string title, int seeds, int first, string? only, bool careless, bool isLight = false)
    {
        if (only is not null && !injections.Any(each => each.Id == only))
        {
            return;
        }

        Console.WriteLine();
        Console.WriteLine(title);
        Console.WriteLine();
        Console.WriteLine("| cause | put into | rigs | its class first | in the first three | what came first instead |");
        Console.WriteLine("|---|---|---|---|---|---|");
        long all = 0, ones = 0, threes = 0;
        foreach (IGrouping<string, FaultInjection> cause in injections.Where(each => only is null || each.Id == only).GroupBy(each => each.Id))
        {
            int rigs = 0, draws = 0, one = 0, three = 0;
            Dictionary<string, int> instead = [];
            foreach (FaultInjection injection in cause)
            {
                foreach (UniverseProtocol protocol in injection.On)
                {
                    for (int i = 0; i < seeds; i++)
                    {
                        FaultRig? rig = null;
                        for (int tries = 0; rig is null && tries < MostDraws; tries++)
                        {
                            // Where a rig has no unit to which this can happen another is drawn.
                            rig = Put(injection, Rig(first + (draws++ * 17), protocol), i % 2 == 0);
                        }

                        if (rig is null)
                        {
                            Console.Error.WriteLine(Invariant($"{injection.Id}, {Name(protocol)}: {MostDraws} rigs drawn and it shows in none of them; {seeds - i} rigs left out"));
                            break;
                        }

                        if (careless)
                        {
                            Careless(rig);
                        }

                        string[] order = Order(rig.Case());
                        int rank = Rank(order, injection.Id, rig);
                        rigs++;
                        one += rank <= TopOne ? 1 : 0;
                        three += rank <= TopThree ? 1 : 0;
                        if (rig.Located is { } seen && rank == TopOne)
                        {
                            RightBy[seen.Answer.IsClaim || seen.Answer.Claim == LocateClaim.NothingExplains] = RightBy.GetValueOrDefault(seen.Answer.IsClaim || seen.Answer.Claim == LocateClaim.NothingExplains) + 1;
                        }
                        else if (rig.Located is { } missed)
                        {
                            MissedAt[missed.Answer.Claim] = MissedAt.GetValueOrDefault(missed.Answer.Claim) + 1;
                        }

                        if (rank > TopOne)
                        {
                            string wrong = order.Length == 0 ? "nothing" : order[0];
                            instead[wrong] = instead.GetValueOrDefault(wrong) + 1;
                            if (only is not null || isLight)
                            {
                                Console.Error.WriteLine(Invariant($"{protocol} seed {rig.Seed} {(i % 2 == 0 ? "mild" : "gross")}: {string.Join(", ", order.Take(6))}; bad {string.Join(",", rig.Bad)}"));
                                if (rig.Located is { } located)
                                {
                                    Console.Error.WriteLine(Invariant($"    {injection.Id}: {rig.Light}"));
                                    Console.Error.WriteLine(Invariant($"    {located.Answer.Claim} {located.Answer.Sentence} | {located.Answer.Explanation}"));
                                    Console.Error.WriteLine(Invariant($"    best {located.Result.Best} conf {located.Result.ClassScore} set {located.Result.Candidates.Count} fit {located.Result.Fit}"));
                                    Console.Error.WriteLine(Invariant($"    runner {located.Result.RunnerUp}"));
                                }
                            }
                        }
                    }
                }
            }

            (all, ones, threes) = (all + rigs, ones + one, threes + three);
            string others = string.Join(", ", instead.OrderByDescending(pair => pair.Value).Take(2).Select(pair => Invariant($"{pair.Key} {pair.Value}")));
            if (careless && one == rigs)
            {
                continue;
            }

            Console.WriteLine(Invariant($"| {cause.Key} | {string.Join(", ", cause.SelectMany(each => each.On).Distinct().Select(Name))} | {rigs} | {Share(one, rigs)} | {Share(three, rigs)} | {others} |"));
        }

        Console.WriteLine(Invariant($"| **all** | | {all} | **{Share(ones, all)}** | **{Share(threes, all)}** | |"));
    }

    // Units that read what the sheet says, complained of all the same.
    private static void RightUnits(int rigs, int first)
    {
        int confirmed = 0, faults = 0, warnings = 0;
        for (int i = 0, draws = 0; i < rigs; draws++)
        {
            if (Put(LightInjections.AsTheSheetSays, Rig(first + (draws * 17), UniverseProtocol.Sacn), mild: false) is not { } rig)
            {
                continue;
            }

            i++;
            CauseReport[] said = [.. Diagnoser.Run(rig.Case()).Ranked.Where(report => report.Units.Contains(rig.Bad[0]))];
            confirmed += rig.Located!.Answer.AsTheSheetSays ? 1 : 0;
            faults += said.Any(report => report.Severity == Severity.Fault) ? 1 : 0;
            warnings += said.Any(report => report.Severity == Severity.Warning) ? 1 : 0;
        }

        Console.WriteLine(Invariant($"Units that read what the sheet says: said so {confirmed} of {rigs}, called a fault {faults}, a place or error called possible {warnings}"));
    }

    private static void Pairs(int pairs, int first)
    {
        FaultInjection[] able = [.. FaultInjections.All.Where(each => !each.HidesOthers && !each.On.Contains(UniverseProtocol.Line))];
        int both = 0, rigs = 0;
        Dictionary<string, int> missed = [];
        for (int i = 0; rigs < pairs; i++)
        {
            Random random = new(first + i);
            FaultInjection one = able[random.Next(able.Length)], other = able[random.Next(able.Length)];
            UniverseProtocol[] shared = [.. one.On.Intersect(other.On)];
            if (one.Id == other.Id || shared.Length == 0 || PairRule.Hide(one.Id, other.Id))
            {
                continue;
            }

            rigs++;
            FaultRig rig = Rig(first + i, shared[random.Next(shared.Length)]);
            one.Apply(rig, i % 2 == 0);
            rig.Target = 2;
            other.Apply(rig, i / 2 % 2 == 0);
            string[] order = Order(rig.Case());
            bool found = Rank(order, one.Id, rig) <= TopFour && Rank(order, other.Id, rig) <= TopFour;
            both += found ? 1 : 0;
            if (!found)
            {
                string key = Rank(order, one.Id, rig) > TopFour ? $"{one.Id} beside {other.Id}" : $"{other.Id} beside {one.Id}";
                missed[key] = missed.GetValueOrDefault(key) + 1;
            }
        }

        Console.WriteLine();
        Console.WriteLine(Invariant($"Pairs on two universes, effects of which do not hide one another: both in the first four in {both} of {rigs} = {Share(both, rigs)}; most missed: {string.Join("; ", missed.OrderByDescending(pair => pair.Value).Take(8).Select(pair => $"{pair.Key} {pair.Value}"))}"));
    }

    private static void Healthy(int rigs, int first)
    {
        Console.WriteLine();
        Console.WriteLine("| healthy rig | rigs | no finding of severity fault | what was said |");
        Console.WriteLine("|---|---|---|---|");
        int all = 0, clean = 0;
        foreach ((int index, (string name, Func<ulong, FaultRig> draw)) in HealthyRigs.Shapes.Index())
        {
            int count = 0, good = 0;
            Dictionary<string, int> said = [];
            for (int i = index; i < rigs; i += HealthyRigs.Shapes.Count)
            {
                DiagnosisResult result = Diagnoser.Run(draw((ulong)(first + i)).Case());
                string[] faults = [.. result.Ranked.Where(report => report.Severity == Severity.Fault).Select(report => report.Cause.Id).Distinct()];
                count++;
                good += faults.Length == 0 ? 1 : 0;
                foreach (string fault in faults)
                {
                    said[fault] = said.GetValueOrDefault(fault) + 1;
                }
            }

            (all, clean) = (all + count, clean + good);
            Console.WriteLine(Invariant($"| {name} | {count} | {Share(good, count)} | {string.Join(", ", said.Select(pair => Invariant($"{pair.Key} {pair.Value}")))} |"));
        }

        Console.WriteLine(Invariant($"| **all** | {all} | **{Share(clean, all)}** | |"));
    }

    private static FaultRig? Put(FaultInjection injection, FaultRig rig, bool mild)
    {
        try
        {
            injection.Apply(rig, mild);
            return rig;
        }
        catch (InvalidOperationException why)
        {
            LeftOut[why.Message] = LeftOut.GetValueOrDefault(why.Message) + 1;
            return null;
        }
    }

    private static FaultRig Rig(int seed, UniverseProtocol protocol) => new((ulong)seed, protocol == UniverseProtocol.Line ? UniverseProtocol.Sacn : protocol);

    // Causes in their order, each once.
    private static string[] Order(DiagnosisCase it) => [.. Diagnoser.Run(it).Ranked.Select(report => report.Cause.Id).Distinct(StringComparer.Ordinal)];

    private static int Rank(string[] order, string id, FaultRig rig)
    {
        HashSet<string> same = [id, .. CauseClass.All.Where(known => known.Causes.Contains(id))
            .SelectMany(known => known.OnlyToOnePlace ? known.Causes.Intersect(LightInjections.SamePlace(rig)) : known.Causes)];
        int place = Array.FindIndex(order, same.Contains);
        return place < 0 ? int.MaxValue : place + 1;
    }

    private static string Name(UniverseProtocol protocol) => protocol switch
    {
        UniverseProtocol.Sacn => "sACN",
        UniverseProtocol.ArtNet => "Art-Net",
        _ => "line",
    };

    private static string Share(long part, long whole) => whole == 0 ? "-" : Invariant($"{100.0 * part / whole:0.0} %");

    private static string Invariant(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
