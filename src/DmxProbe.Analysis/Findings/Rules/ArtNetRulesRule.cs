using DmxProbe.Analysis.Conformance;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.ArtNet;
using DmxProbe.Protocols.Net;

namespace DmxProbe.Analysis.Findings.Rules;

/// <summary>Readable Art-Net packets that break a rule, and devices programmed from afar (Art-Net 4, 1.4dn).</summary>
internal sealed class ArtNetRulesRule : ISurveyRule
{
    public IEnumerable<Finding> Judge(SurveySnapshot snapshot)
    {
        foreach (EventCount seen in snapshot.Events)
        {
            if (seen.Kind == LinkEventKind.ArtRule)
            {
                (string id, Severity severity, string what, string action) = Describe(seen);
                yield return Of(seen, id, severity, $"{Who(seen)}{what} ({Words.Count(seen.Count, "packet")}).", action);
            }
            else if (seen.Kind == LinkEventKind.ArtProgramming)
            {
                yield return Of(
                    seen,
                    "device-programmed",
                    Severity.Info,
                    $"Somebody works on the settings of {Address(seen.A & uint.MaxValue)} over the network with {ArtOpCodes.Name(OpCode(seen))}"
                        + Command(seen) + $" ({Words.Count(seen.Count, "packet")}).",
                    "If nobody meant to, look which controller or tool is set to do so.") with
                {
                    Subject = Address(seen.A & uint.MaxValue),
                };
            }
        }
    }

    private static string Who(EventCount seen) => (seen.Universe.Number, seen.Sender) switch
    {
        (_, { } sender) when seen.Universe.Protocol == UniverseProtocol.ArtNet && seen.A is (long)ArtRule.Version or (long)ArtRule.NetBit7 =>
            $"{seen.Universe.Label} from {Words.Name(sender)}: ",
        (_, { } sender) => $"{Words.Name(sender)}: ",
        _ when (ArtRule)seen.A == ArtRule.NzsStartCode => $"{seen.Universe.Label}: ",
        _ => "An Art-Net device: ",
    };

    private static (string Id, Severity Severity, string What, string Action) Describe(EventCount seen) => (ArtRule)seen.A switch
    {
        ArtRule.Version => (
            "art-net-old-version",
            Severity.Warning,
            Words.Invariant($"states protocol version {seen.B} instead of 14; newer devices may ignore it"),
            "The sender's software is at fault or very old."),
        ArtRule.NetBit7 => (
            "art-net-bit-7",
            Severity.Warning,
            Words.Invariant($"sets a bit of Net that no Port-Address has (Net {seen.B:X2}h); receivers may take it for another Port-Address"),
            "The sender's software is at fault."),
        ArtRule.NzsStartCode => (
            "art-nzs-start-code",
            Severity.Warning,
            Words.Invariant($"ArtNzs with START code {seen.B:X2}h, which may not travel in it; devices ignore it or take it for levels"),
            "The sender's software is at fault."),
        ArtRule.SyncUnicast => (
            "art-sync-unicast",
            Severity.Info,
            $"ArtSync to {Address(seen.B)} alone; it is to be broadcast so that all devices act together",
            "Set the sender to broadcast ArtSync if it can; else looks change device by device."),
        ArtRule.ReplyAddress => (
            "device-states-other-address",
            Severity.Warning,
            $"its ArtPollReply states the address {Address(seen.B)}, not the one it comes from; controllers send to the wrong place",
            "Look at the address settings of this device."),
        ArtRule.RdmBroadcast => (
            "art-rdm-broadcast",
            Severity.Info,
            $"{ArtOpCodes.Name((ArtOpCode)seen.B)} by broadcast; every device of the network has to take it",
            "Nothing in a small network; with many devices, let RDM rest during the show."),
        _ => (
            "device-too-many-ports",
            Severity.Info,
            Words.Invariant($"its ArtPollReply states {seen.B} ports; a reply describes four at most"),
            "If a controller shows too few ports, enter their Port-Addresses by hand; the device's software is at fault."),
    };

    private static string Command(EventCount seen)
    {
        byte command = unchecked((byte)(seen.A >> 32));
        return OpCode(seen) switch
        {
            ArtOpCode.Address when command != ArtAddressCommand.None => $": {ArtAddressCommand.Name(command)}",
            ArtOpCode.Address => ": names, addresses or priority",
            ArtOpCode.Input => ": inputs on or off",
            _ when (command & 0x80) == 0 => ": asked for its address settings only",
            _ => ": its address settings",
        };
    }

    private static ArtOpCode OpCode(EventCount seen) => (ArtOpCode)(seen.A >> 40);

    private static string Address(long number) => IpAddress.FromIpv4(unchecked((uint)number)).ToString();

    private static Finding Of(EventCount seen, string id, Severity severity, string text, string action) => new()
    {
        Id = id,
        Severity = severity,
        Subject = seen.Sender is null ? "Art-Net" : Words.Name(seen.Sender),
        Text = text,
        Measured = Words.Count(seen.Count, "packet"),
        LimitSource = RuleBook.SourceOf(id),
        From = seen.First,
        To = seen.Last,
        FirstRecord = seen.FirstRecord,
        Action = action,
    };
}
