using System.Globalization;

using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;

namespace DmxProbe.Cli.Ask;

/// <summary>
/// Universes that several senders decided together while the capture ran: what a unit there obeys is not known, so no look
/// there is what was asked for.
/// </summary>
internal static class SharedUniverses
{
    /// <summary>How many senders decided a universe at once, the most of them; only those with several.</summary>
    public static IReadOnlyDictionary<UniverseId, int> Of(SurveySnapshot survey) => survey.Universes
        .Select(universe => (universe.Id, Most: universe.Obeyed.Select(span => span.Senders.Count).DefaultIfEmpty(0).Max()))
        .Where(each => each.Most > 1).ToDictionary(each => each.Id, each => each.Most);

    /// <summary>The sentence about the universe of the unit itself.</summary>
    public static string Refusal(UniverseId universe, int senders, string unit) => Choice(universe, senders, unit) + " then capture and ask again";

    /// <summary>The sentence while questions are asked.</summary>
    public static string Now(UniverseId universe, int senders, string unit) => "This answer is not taken: " + Choice(universe, senders, unit) + " then answer again.";

    /// <summary>The note about other universes.</summary>
    public static string Note(IEnumerable<(UniverseId Universe, int Senders)> shared) =>
        string.Join("; ", shared.Select(each => Senders(each.Universe, each.Senders))) +
        ": what units there obey is their own choice, so nothing there is raised. If the light stays lit or dark whatever you raise, it may be there.";

    private static string Choice(UniverseId universe, int senders, string unit) =>
        Senders(universe, senders) + $": what {unit} obeys is its own choice; switch {(senders == 2 ? "one" : "all but one")} off,{(universe.Protocol == UniverseProtocol.Sacn ? " or raise the priority of the right one," : "")}";

    private static string Senders(UniverseId universe, int senders) => string.Create(
        CultureInfo.InvariantCulture, $"{senders} senders {(universe.Protocol == UniverseProtocol.Sacn ? "at the same priority" : "are merged")} on {universe.Label}");
}
