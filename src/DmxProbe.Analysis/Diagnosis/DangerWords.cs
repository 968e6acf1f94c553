using System.Globalization;

namespace DmxProbe.Analysis.Diagnosis;

/// <summary>
/// Words by which people say that something can hurt: heat, fire, water, current, and what hangs loose. A false alarm costs a
/// moment; so whatever is not plainly the trade's own word (smoke machine, fire the cue, hot spot) is taken for danger.
/// </summary>
internal static class DangerWords
{
    /// <summary>What to do about heat, fire, water and current: common practice, no source; local codes prevail.</summary>
    public const string Electrical =
        "Stop: this may be a fire or a live part. Touch neither the unit nor its cables, nor anybody in contact with them, and keep people away. Switch it off at its supply (the breaker or plug that feeds it), if you can get there safely. " +
        "Fire, smoke or anybody hurt: raise the alarm, clear the area and call for help first. Then a licensed person looks, before power comes back; local codes and the rules of the house prevail.";

    /// <summary>What to do about what hangs loose: common practice, no source; local codes prevail.</summary>
    public const string Overhead =
        "Stop: something may fall. Clear the area under it and keep people away; move, raise and re-make nothing on it. Switch it off at its supply, if you can get there without passing under it. " +
        "Anybody hurt: call for help first. Then a person trained and licensed for such work makes it safe, before anybody works under it; local codes and the rules of the house prevail.";

    private static readonly char[] Breaks = [' ', '"', '\t', '\r', '\n', '-', '/', '_', '*'];

    // Words of their own: a "no" or a "machine" on the other side of them is no part of what was said.
    private static readonly string[] Stops = [",", ".", ";", ":", "!", "?", "(", ")"];

    private static readonly HashSet<string> Not = Set("no not never without isn't isnt aren't arent wasn't wasnt");

    // What an effect is called by, and what a machine is.
    private static readonly HashSet<string> Effect = Set("machine machines generator generators unit units effect effects fluid juice output fader channel slot level cue cues chase look gobo gobos wheel gun projector projectors fountain fountains dimmer colour color");

    private static readonly HashSet<string> Cued = Set("the a an cue cues this that it its next all any every");
    private static readonly HashSet<string> Cues = Set("to cue cues will can can't cant cannot don't dont doesn't doesnt didn't didnt won't wont did does do should not never i we you they");

    // A level falls back; a lamp does not. A plug is loose, and not what hangs.
    private static readonly HashSet<string> Behind = Set("back behind short silent asleep dark zero");
    private static readonly HashSet<string> Levels = Set("zero 0 black blackout dark half full nothing level");
    private static readonly HashSet<string> Contacts = Set("connector connectors connection connections contact contacts pin pins xlr plug plugs terminator");
    private static readonly HashSet<string> Keys = Set("spot spots key keys keyed cue cues plug plugs plugged pluggable swap swapped swappable spare spares standby backup restart patch potato");

    private static readonly HashSet<string> Electric = Set(
        "burn burns burning burnt burned scorch scorched scorching singed charred melt melts melted melting molten smell smells smelling smelled smelt smelly odour odor stink stinks stinking stench " +
        "smoking smoky smokey smoulder smouldering smoldering alight ablaze blaze blazing ignite ignites ignited spark sparks sparking sparked arcing arced bang explode explodes exploded explosion exploding " +
        "shock shocks shocked shocking electrocuted electrocution electrocute tingle tingles tingling tingly tingled zap zaps zapped zapping " +
        "wet water watery damp soaked soaking soggy drip drips dripping leak leaks leaking rain rained raining rainwater condensation moisture puddle puddles spilled spilt flooded " +
        "overheat overheats overheated overheating scalding frayed frays fraying exposed unconscious injured injury hurt bleeding");

    private static readonly HashSet<string> Loose = Set("fell fallen falling fall falls dangling dangles collapsed collapsing collapse");
    private static readonly HashSet<string> Cut = Set("torn tore ripped severed cut crushed chewed split bare damaged snapped broken pinched");
    private static readonly HashSet<string> Leads = Set("cable cables lead leads wire wires wiring cord flex insulation sheath copper");
    private static readonly HashSet<string> Mounts = Set("clamp clamps bracket brackets hook truss bar yoke bolt bolts safety shackle rigging mount");
    private static readonly HashSet<string> Failing = Set("broken broke cracked crack open loose slipping slipped slips bent bending undone missing gone off snapped swinging moving creaking failed failing");
    private static readonly HashSet<string> Hung = Set("by off loose down crooked askew sideways from on");
    private static readonly HashSet<string> Fuses = Set("fuse fuses breaker breakers rcd rcds rcbo mcb gfci gfi");
    private static readonly HashSet<string> Trips = Set("trip trips tripped tripping blow blows blew blown blowing");
    private static readonly HashSet<string> Cases = Set("casing case housing chassis truss metal frame body");

    /// <summary>The safety answer to what was said; null where it holds no such word.</summary>
    /// <param name="said">What was said; untrusted text.</param>
    public static string? Find(string said)
    {
        ArgumentNullException.ThrowIfNull(said);
        string[] words = Split(said);
        bool current = Enumerable.Range(0, words.Length).Any(at => IsElectrical(words, at)) ||
            (words.Any(Leads.Contains) && words.Any(Cut.Contains)) || (words.Any(Fuses.Contains) && words.Any(Trips.Contains)) ||
            (words.Contains("live") && words.Any(Cases.Contains));
        bool overhead = Enumerable.Range(0, words.Length).Any(at => IsOverhead(words, at)) || (words.Any(Mounts.Contains) && words.Any(Failing.Contains));
        return (current, overhead) switch
        {
            (true, true) => Electrical + " Clear the area under it too: something may fall.",
            (true, false) => Electrical,
            (false, true) => Overhead,
            _ => null,
        };
    }

    /// <summary>The words of what was said, in small letters; its stops stand by themselves.</summary>
    public static string[] Split(string said)
    {
        string small = said.ToLower(CultureInfo.InvariantCulture).Replace('\u2019', '\'');
        return Stops.Aggregate(small, (text, stop) => text.Replace(stop, " " + stop + " ", StringComparison.Ordinal)).Split(Breaks, StringSplitOptions.RemoveEmptyEntries);
    }

    private static bool IsElectrical(string[] words, int at)
    {
        string next = At(words, at + 1);
        string before = At(words, at - 1);
        return !Not.Contains(before) && words[at] switch
        {
            "smoke" or "smokes" or "flame" or "flames" => !Effect.Contains(next),
            "spark" or "sparks" or "rain" or "water" => !Effect.Contains(next) && !(words[at] is "spark" or "sparks" && before == "cold"),
            "fire" or "fires" => before is "on" or "catch" or "catches" or "caught" or "took" or "takes" || !(Cued.Contains(next) || Cues.Contains(before) || Effect.Contains(next)),
            "hot" => !Keys.Contains(next),
            "leak" or "leaks" or "leaking" => before != "light" && next != "light",
            "flooded" => !words.Contains("network") && !words.Contains("packets"),
            string word => Electric.Contains(word),
        };
    }

    private static bool IsOverhead(string[] words, int at)
    {
        string next = At(words, at + 1);
        string before = At(words, at - 1);
        return !Not.Contains(before) && words[at] switch
        {
            "loose" or "loosened" => !Contacts.Contains(next) && !words.Any(Contacts.Contains),
            "hanging" or "hangs" or "hung" => Hung.Contains(next) && !IsHeld(words, at + 1),
            string word => Loose.Contains(word) && !Behind.Contains(next) && !(next == "to" && Levels.Contains(At(words, at + 2))),
        };
    }

    // "Hangs on the last look" is held data.
    private static bool IsHeld(string[] words, int at) => words[at] == "on" && words.Skip(at).Any(word => word is "look" or "cue" or "level" or "levels" or "colour" or "color" or "value" or "full");

    private static string At(string[] words, int at) => at >= 0 && at < words.Length ? words[at] : "";

    private static HashSet<string> Set(string words) => [.. words.Split(' ')];
}
