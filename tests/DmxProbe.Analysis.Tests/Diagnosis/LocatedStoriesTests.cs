using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Diagnosis;
using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Locate;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Testing.Diagnosis;

namespace DmxProbe.Analysis.Tests.Diagnosis;

/// <summary>What is made of the places that a light allows: our own rules, no source. The errors are common practice.</summary>
public sealed class LocatedStoriesTests
{
    private const ulong Seed = 77;
    private const string Factory = "still at address 1, as it comes from the factory";
    private const string Digit = "one digit is wrong";
    private static readonly LocateFit Fit = new(0.1, 1, 2.5, 0, 0.001, 1, 0.01, 500, 0, 0, 12, 12, 1_770);

    [Fact]
    public void Places_that_a_light_leaves_open_are_possible_causes_and_the_likelier_comes_first()
    {
        DiagnosisResult result = Diagnose(LocateClaim.OneOf, rig => [Place(rig, 401, 0.9, Factory), Place(rig, 402, 0.1, "has the address of 'in mode'")]);
        CauseReport[] told = Told(result);
        Assert.Equal(["address-not-stored", "reads-anothers-address"], told.Select(report => report.Cause.Id));
        Assert.All(told, report => Assert.Equal((CauseState.Possible, Severity.Fault), (report.State, report.Severity)));
        Assert.Contains("1.402", told[1].Text, StringComparison.Ordinal);
        Assert.EndsWith("None of them is what the sheet says.", result.Sentence, StringComparison.Ordinal);

        // Whoever sets an address is told what to mind, and the others are excluded by the light.
        Assert.All(told, report => Assert.Contains(Caution.Setting, report.WhatToMind));
        Assert.Contains("off-by-one", result.Excluded.Select(report => report.Cause.Id));
    }

    [Fact]
    public void Two_errors_that_lead_to_one_place_are_both_told_and_none_is_excluded()
    {
        DiagnosisResult result = Diagnose(LocateClaim.Found, rig => [Place(rig, 401, 0.995, Factory) with { OtherErrors = [Digit] }]);
        CauseReport[] told = Told(result);
        Assert.Equal([("address-not-stored", CauseState.Proven), ("one-digit-wrong", CauseState.Possible)], told.Select(report => (report.Cause.Id, report.State)));
        Assert.DoesNotContain("one-digit-wrong", result.Excluded.Select(report => report.Cause.Id));
    }

    [Fact]
    public void A_place_that_no_known_error_explains_is_a_wrong_address()
    {
        CauseReport told = Assert.Single(Told(Diagnose(LocateClaim.Found, rig => [Place(rig, 401, 0.995, "")])));
        Assert.Equal(("wrong-start-address", CauseState.Proven), (told.Cause.Id, told.State));
    }

    [Fact]
    public void A_place_on_another_universe_is_a_wrong_line_and_no_address_is_advised_alone()
    {
        static LocateCandidate Elsewhere(FaultRig rig, string error) => Place(rig, 401, 0.9, error) with { Universe = rig.Wire(2) };
        CauseReport told = Assert.Single(Told(Diagnose(LocateClaim.Found, rig => [Elsewhere(rig, "")])));
        Assert.Equal(("wrong-universe", CauseState.Proven), (told.Cause.Id, told.State));

        CauseReport open = Told(Diagnose(LocateClaim.OneOf, rig => [Elsewhere(rig, Factory), Place(rig, 402, 0.05, "")]))[0];
        Assert.Equal("address-not-stored", open.Cause.Id);
        Assert.Contains(": first bring it to universe 1 (its line into the output of that universe;", open.WhatToDo, StringComparison.Ordinal);
        Assert.Contains("an address alone would leave it on the other universe. Then set it again", open.WhatToDo, StringComparison.Ordinal);
        Assert.Contains(Caution.Unplugging, open.WhatToMind);
    }

    [Fact]
    public void Where_the_sheets_place_is_among_the_open_ones_nothing_is_called_a_fault()
    {
        DiagnosisResult result = Diagnose(LocateClaim.OneOf, rig => [Place(rig, Unit(rig).Address, 0.5, ""), Place(rig, 401, 0.5, Factory)]);
        CauseReport told = Assert.Single(Told(result));
        Assert.Equal(("address-not-stored", CauseState.Possible, Severity.Warning), (told.Cause.Id, told.State, told.Severity));
    }

    [Theory]
    [InlineData(0.8, 0.01, 12, true)]
    [InlineData(0.4, 0.01, 12, false)] // others are likelier together
    [InlineData(0.8, 0.9, 12, false)] // it is the others' light
    [InlineData(0.8, 0.01, 2, false)] // it hardly moves
    public void A_light_that_does_not_suffice_has_a_favourite_only_where_it_fits_and_is_the_likelier(double score, double spill, int moves, bool isTold)
    {
        CauseReport[] told = Told(Diagnose(LocateClaim.NotEnough, rig => [Place(rig, 401, score, Factory)], Fit with { SpillShare = spill, LightChanges = moves }));
        Assert.Equal(isTold ? ["address-not-stored"] : [], told.Select(report => report.Cause.Id));
        Assert.All(told, report => Assert.Equal((CauseState.Possible, Severity.Warning), (report.State, report.Severity)));
    }

    [Theory]
    [InlineData("unexplained")] // too much is left over
    [InlineData("own")] // too little of it is the unit's
    [InlineData("margin")] // no light of its own would do nearly as well
    [InlineData("changes")] // what is predicted hardly moves
    public void A_favourite_that_does_not_fit_in_one_respect_is_not_told(string what)
    {
        LocateFit fit = what switch
        {
            "unexplained" => Fit with { Unexplained = 0.03 },
            "own" => Fit with { OwnShare = 0.2 },
            "margin" => Fit with { MarginOverNone = 10 },
            _ => Fit with { Changes = 2 },
        };
        Assert.Empty(Told(Diagnose(LocateClaim.NotEnough, rig => [Place(rig, 401, 0.8, Factory)], fit)));
    }

    private static CauseReport[] Told(DiagnosisResult result) => [.. result.Ranked.Where(report => report.Cause is LocateCause)];

    private static PatchUnit Unit(FaultRig rig) => rig.TargetUnits[0];

    private static LocateCandidate Place(FaultRig rig, int address, double score, string error) =>
        new(new Hypothesis(0, address, 0), rig.Wire(1), 0, Unit(rig).Mode, score, 900, error);

    private static DiagnosisResult Diagnose(LocateClaim claim, Func<FaultRig, LocateCandidate[]> places, LocateFit? fit = null)
    {
        FaultRig rig = new(Seed, UniverseProtocol.Sacn) { Length = 5_000_000_000 };
        LocateCandidate[] all = places(rig);
        LocateResult result = new(claim, false, all[0], null, all, all.Sum(place => place.Score), claim == LocateClaim.OneOf ? all : [], fit ?? Fit, 200);
        rig.Complain([Unit(rig)]);
        rig.See(new LocatedUnit(Unit(rig).Unit, result, new LocateAnswer(claim, false, "The answer.", "", "", "A look.", [], [])));
        return Diagnoser.Run(rig.Case());
    }
}
