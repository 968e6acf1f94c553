namespace DmxProbe.Analysis.Diagnosis;

/// <summary>Causes that the same inputs cannot tell apart: naming any one of them is as right as another.</summary>
/// <param name="With">The inputs, in words.</param>
/// <param name="Causes">The causes (<see cref="Cause.Id"/>).</param>
/// <param name="Why">Why they look the same.</param>
public sealed record CauseClass(string With, IReadOnlyList<string> Causes, string Why)
{
    /// <summary>Whether only those of them are a class which lead from the sheet's address to one place.</summary>
    public bool OnlyToOnePlace { get; init; }

    /// <summary>All of them, fixed before the evaluation of docs/causes.md.</summary>
    public static IReadOnlyList<CauseClass> All { get; } =
    [
        new("a recording of the line at one place",
            ["framing-errors", "no-terminator", "terminator-in-the-middle", "y-split", "screen-open", "microphone-cable", "receiver-loads-line", "line-too-long", "ground-loop", "splitter-port-bad", "electrical-interference", "intermittent-connector", "receiver-burnt"],
            "each damages characters; only a second place, another cable or the time of the errors parts them"),
        new("a recording of the line at one place", ["one-leg-open", "microphone-cable", "splitter-port-bad"], "each makes low and high bits unequal"),
        new("a recording of the line at one place", ["reversed-pair", "adapter-wrong"], "an adapter wired wrongly is a reversed pair"),
        new("a recording of the line at one place", ["two-transmitters", "unit-set-to-master"], "a unit set to master is a second transmitter"),
        new("a recording of the line at one place", ["line-silent", "wrong-port-direction", "no-mains", "broken-chain"], "nothing arrives, whatever stopped it"),
        new("a network capture", ["universe-not-sent", "no-levels", "wrong-network", "wrong-interface", "firewall", "group-not-joined", "no-querier"], "nothing of the universe passes where the capture was made"),
        new("a network capture", ["no-device-outputs", "sent-to-unlisted-port", "output-without-sender"], "device and sender do not agree on the universe: which of them is wrong is not in the capture"),
        new("a network capture", ["sender-stopped", "wrong-interface", "no-mains"], "a sender that is switched off and one whose cable is out both end without a word"),
        new("a network capture", ["sender-restarts", "shared-identity"], "two programs with one identity and one address look like one that restarts"),
        new("a network capture and the sheet", ["held-at-controller", "profile-misread"], "slots that never move may be parked, unpatched or patched elsewhere"),
        new("a network capture and the light",
            ["off-by-one", "one-switch-wrong", "switches-inverted", "switches-reversed", "digits-swapped", "one-digit-wrong", "display-upside-down", "address-not-stored", "footprint-shift", "reads-anothers-address", "wrong-universe", "universe-counted-from-zero", "universe-off-by-16"],
            "light tells where a unit reads, not by which error it came there: those of them that lead from the sheet's address to this very place, and no others (1 more is also one switch or the last digit for half of the addresses; a shifted address is the neighbour's in an evenly spaced row; address 1 is 1 less than 2; one universe further is the next line, by cable or by number)")
        {
            OnlyToOnePlace = true,
        },
        new("a network capture and the light", ["own-programme", "sound-or-programme-mode", "radio-wrong-group", "unit-in-error"], "nothing captured explains the light"),
    ];
}
