namespace DmxProbe.Analysis.Diagnosis;

/// <summary>
/// The symptom index: what people say about lights, the first test, and the causes in the order in which an experienced
/// technician thinks of them; words of danger come before it (<see cref="Symptom.Safety"/>). Common practice, no source.
/// </summary>
public static class Symptoms
{
    // Words that can hurt have their own rules: no first test at the rig, and nothing of the index before them.
    private const string NoTest = "No test: make it safe first.";

    /// <summary>The index.</summary>
    public static IReadOnlyList<Symptom> All { get; } =
    [
        Of("flickers-at-times", "flicker flickers flickering twitch twitches blink blinks", "when only hoist phone crowd full touch", "Line the times of the errors up with the event.",
            "electrical-interference", "radio-freezes", "voltage-dip", "intermittent-connector"),
        Of("follows-the-wrong-fader", "follows does moves copies twin", "wrong other another neighbour neighbor twin", "Let locate name the address it reads.",
            "wrong-start-address", "off-by-one", "unintended-shared-address", "address-overlap", "footprint-shift", "wrong-universe"),
        Of("wrong-colour", "colour color colours colors function functions pan tilt", "wrong mixed swapped shifted instead", "Compare what it does with every mode of its chart.",
            "off-by-one", "wrong-mode", "colours-overridden", "coarse-and-fine-swapped"),
        Of("flashes-by-itself", "flash flashes flashing", "random everything all second seconds", "Look for packets with another START code than 0.",
            "alternate-start-code", "per-address-priority", "equal-priority"),
        Of("dead-from-here-on", "dead dark nothing out", "after behind from this", "Test the through-connection at that unit.",
            "broken-chain", "reversed-pair", "intermittent-connector", "no-mains"),
        Of("last-ones-dead", "last end top high", "dead dark nothing out", "Count the slots that are sent.",
            "beyond-slots-sent", "slot-count-varies", "footprint-past-512"),
        Of("half-the-rig-dead", "half part side branch", "dead dark nothing out", "See which universe, circuit and chain the dead ones share.",
            "universe-not-sent", "wrong-universe", "no-mains", "group-not-joined", "wrong-port-direction"),
        Of("whole-rig-dead", "all everything whole nothing rig", "dead dark nothing works out", "See whether any packet, any frame arrives.",
            "universe-not-sent", "wrong-network", "wrong-interface", "network-loop", "no-querier", "no-mains", "held-at-controller"),
        Of("stopped-after-minutes", "stopped stops died worked", "after minutes then while", "Hold the time against 250 to 260 s, 2.5 s and 4 s.",
            "no-querier", "keep-alive-slow", "radio-battery", "thermal-fold-back"),
        Of("moves-by-itself", "moves resets homes restarts dances beat", "itself alone middle own all", "Look at the control slots around that time.",
            "control-action", "programme-runs", "sound-or-programme-mode", "voltage-dip"),
        Of("flickers", "flicker flickers flickering twitch twitches twitching blink blinks blinking", "", "See whether the value on the wire flickers too.",
            "equal-priority", "two-art-net-senders", "alternate-start-code", "packet-loss", "strobe-left-on", "no-terminator", "one-leg-open", "break-short"),
        Of("strobes", "strobe strobes strobing flash flashes flashing", "", "See whether its shutter slot is in a strobe range.",
            "strobe-left-on", "equal-priority", "alternate-start-code", "programme-runs", "rdm-identify-on"),
        Of("dim", "dim dimmer weak weaker darker faint", "", "See whether its dimmer and what is in the beam are open.",
            "beam-closed", "other-dimmer-curve", "thermal-fold-back", "white-balance-differs", "terminator-in-the-middle"),
        Of("stuck", "stuck hangs holds frozen freezes stays ghost", "", "See who owns it and how old its last change is.",
            "old-source-left-on", "sender-silent", "sync-missing", "hold-last-look", "radio-freezes"),
        Of("late", "late lazy behind slow delay lag", "", "Measure the lag of the line behind the network, and the step response of the light.",
            "gateway-latency", "led-smoothing", "slow-speed-slot", "multicast-bursts", "rate-above-line"),
        Of("snaps-back", "snaps back dark off", "cannot cant can't won't back", "List the senders and the merge rule.",
            "merge-surprise", "equal-priority", "held-at-controller", "old-source-left-on"),
        Of("steppy", "steppy steps jerky jerks jumpy smooth", "", "Measure the rate and see whether the fine slots move.",
            "refresh-slow", "refresh-slow-on-network", "coarse-and-fine-swapped", "jitter", "rate-above-line"),
        Of("does-not-follow", "follow follows respond responds react reacts work works working dead dark nothing anything move moves moving ignore ignores listen black off out light doesn't doesnt don't dont won't wont", "", "See whether the wire carries what was sent.",
            "wrong-start-address", "off-by-one", "wrong-mode", "own-programme", "sound-or-programme-mode", "held-at-controller", "told-dark", "address-not-stored", "wrong-input-selected", "broken-chain", "master-down", "shutter-closed"),
    ];

    /// <summary>The entry that fits what was said, one of danger before all others; null when none does or nothing was said.</summary>
    public static Symptom? Find(string said)
    {
        ArgumentNullException.ThrowIfNull(said);
        if (DangerWords.Find(said) is { } safety)
        {
            return safety == DangerWords.Overhead
                ? new Symptom("danger-overhead", [], NoTest, []) { Safety = safety }
                : new Symptom("danger", [], NoTest, ["hot-or-wet"]) { Safety = safety };
        }

        HashSet<string> words = [.. DangerWords.Split(said)];
        return All.FirstOrDefault(symptom => symptom.Words.All(group => group.Any(words.Contains)));
    }

    private static Symptom Of(string id, string first, string second, string test, params string[] causes) => new(
        id,
        [.. new[] { first, second }.Where(words => words.Length > 0).Select(words => (IReadOnlyList<string>)words.Split(' '))],
        test,
        causes);
}
