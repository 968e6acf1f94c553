using DmxProbe.Analysis.Conformance;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Findings.Rules;

/// <summary>What is wrong with the capture itself, said so that it is never blamed on the network.</summary>
internal sealed class CaptureQualityRule : ISurveyRule
{
    public IEnumerable<Finding> Judge(SurveySnapshot snapshot)
    {
        foreach (InputSummary input in snapshot.Inputs)
        {
            if (input.Cut is not null)
            {
                yield return About(input, "input-cut", Severity.Warning, $"{input.Name} ends early, so nothing is said of what came after: {input.Cut}.", "Copy the file again from where it was made; if it ends there too, capture again for what is missing.") with
                {
                    From = input.Last ?? default,
                };
            }

            if (input.LostByCapture > 0)
            {
                yield return About(
                    input,
                    "capture-lost-records",
                    Severity.Warning,
                    IsSerial(input)
                        ? $"{input.Name}: the port was away {Words.Count(input.LostByCapture, "time")}; what was sent then is not in this capture."
                        : $"{input.Name}: the capture itself lost {Words.Count(input.LostByCapture, "record")}; what is missing here may not be "
                        + "missing on the network.",
                    IsSerial(input)
                        ? "Look at the adapter's plug and cable."
                        : "Capture again with a larger buffer or fewer other programs running.");
            }

            if (input.Malformed > 0)
            {
                yield return About(
                    input,
                    "malformed-packets",
                    Severity.Warning,
                    IsSerial(input)
                        ? $"{input.Name}: {Words.Count(input.Malformed, "message")} of the interface could not be read as the DMX they claim to carry."
                        : $"{input.Name}: {Words.Count(input.Malformed, "packet")} on lighting ports could not be read as the protocol they claim.",
                    IsSerial(input)
                        ? "Check that the labels and the layout set for this interface are its own (docs/serial.md)."
                        : "Open the first of them with a general capture tool to see what it is.") with
                {
                    FirstRecord = First(snapshot, LinkEventKind.Malformed),
                };
            }

            if (input.CutBySnapLength > 0)
            {
                yield return About(
                    input,
                    "cut-by-snap-length",
                    Severity.Info,
                    $"{input.Name}: the snap length of the capture cut {Words.Count(input.CutBySnapLength, "packet")}; their slots are "
                    + "unknown, the senders are not at fault.",
                    "Capture whole packets.") with
                {
                    FirstRecord = First(snapshot, LinkEventKind.CutBySnapLength),
                };
            }

            if (input.Fragments > 0)
            {
                yield return About(
                    input,
                    "fragmented-packets",
                    Severity.Warning,
                    $"{input.Name}: {Words.Count(input.Fragments, "lighting packet")} came in IP fragments, which many receivers cannot "
                    + "put together and this program does not read"
                    + (snapshot.Network.Fragments is { Datagrams: > 0 } fragments
                        ? Words.Invariant($"; of {fragments.Datagrams:N0} the capture holds {fragments.Whole:N0} whole.")
                        : "."),
                    "Look for a tunnel or a router with a small packet size between sender and receiver.") with
                {
                    LimitSource = RuleBook.SourceOf("fragmented-packets"),
                    FirstRecord = First(snapshot, LinkEventKind.Fragment),
                };
            }
        }

        if (snapshot.Universes.Count == 0 && snapshot.Lines.Count == 0)
        {
            InputSummary first = snapshot.Inputs[0];
            long records = snapshot.Inputs.Sum(input => input.Records);
            string there = SurveyContents.Else(snapshot);
            yield return About(
                first,
                "no-levels",
                Severity.Warning,
                IsSerial(first)
                    ? $"No DMX in {Words.Count(records, "read")} of {first.Name}."
                    : $"No Art-Net or sACN levels in {Words.Count(records, "record")}{there}.",
                IsSerial(first)
                    ? "Check that the line is connected, that something sends, and that this is the right kind of input for the adapter: framed or uart."
                    : (there.Length > 0 ? "If levels should be there too: check" : "Check") + " that the capture was taken where the lighting network passes: a switch sends unicast and multicast only where it is wanted.");
        }

        long notListed = snapshot.FramesOfUniversesNotListed + snapshot.FramesOfSendersNotListed;
        if (notListed > 0)
        {
            yield return About(
                snapshot.Inputs[0],
                "more-senders-than-kept",
                Severity.Warning,
                $"{Words.Count(notListed, "frame")} of universes or senders beyond the 4,096 each that are kept apart were only counted.",
                "Capture a part of the network at a time.");
        }
    }

    private static bool IsSerial(InputSummary input) =>
        input.Interfaces.Any(each => each.Content is InterfaceContent.SerialUart or InterfaceContent.SerialFramed);

    private static long First(SurveySnapshot snapshot, LinkEventKind kind) =>
        snapshot.Events.FirstOrDefault(each => each.Kind == kind) is EventCount seen ? seen.FirstRecord : 0;

    private static Finding About(InputSummary input, string id, Severity severity, string text, string action) => new()
    {
        Id = id,
        Severity = severity,
        Subject = input.Name,
        Text = text,
        From = input.First ?? default,
        To = input.Last ?? default,
        Action = action,
    };
}
