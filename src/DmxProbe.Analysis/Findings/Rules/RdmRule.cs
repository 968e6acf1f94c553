using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Diagnosis;
using DmxProbe.Analysis.Rdm;
using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.Rdm;

namespace DmxProbe.Analysis.Findings.Rules;

/// <summary>What RDM devices say about themselves that cannot be right, or that a technician wants to know.</summary>
internal sealed class RdmRule : ISurveyRule
{
    private const string Secondary = "ANSI E1.20, known from secondary sources";
    private const int LastSlot = 512;
    private const int MostOverlaps = 64;

    // One may be a disturbance.
    private const int FewestCollisions = 2;

    private static readonly string[] BeforeSetting = ["Before an address is set: the unit may move or strike; nobody at it, nobody on a ladder under it."];

    public IEnumerable<Finding> Judge(SurveySnapshot snapshot)
    {
        if (snapshot.Rdm is not RdmSnapshot rdm)
        {
            return [];
        }

        return
        [
            .. SharedUids(rdm),
            .. rdm.Devices.SelectMany(PastTheEnd),
            .. rdm.Ports.SelectMany(port => Overlaps(port.Universe, rdm.Devices).Take(MostOverlaps)),
            .. rdm.Devices.SelectMany(Told),
        ];
    }

    /// <summary>A finding about a device.</summary>
    /// <param name="device">The device.</param>
    /// <param name="seen">When it was seen; where that is not known, the time in which the device was.</param>
    /// <param name="id">Id of the finding.</param>
    /// <param name="severity">How bad.</param>
    /// <param name="text">What it says.</param>
    internal static Finding About(RdmDevice device, RdmSpan? seen, string id, Severity severity, string text) => new()
    {
        Id = id,
        Severity = severity,
        Subject = device.Universe.Label,
        Text = text,
        From = seen?.From ?? device.First,
        To = seen?.To ?? device.Last,
        FirstRecord = seen?.FirstRecord ?? device.FirstRecord,
    };

    // One UID twice: both answer at once and nobody can ask either of them.
    private static IEnumerable<Finding> SharedUids(RdmSnapshot rdm)
    {
        foreach (RdmDevice device in rdm.Devices.Where(device => device.SecondAnswers > 0 || device.CollisionsOfItsOwn >= FewestCollisions))
        {
            yield return About(
                device,
                device.TwiceSeen,
                "rdm-uid-twice",
                Severity.Fault,
                Words.Invariant($"{device.Universe.Label}: two RDM devices have the UID {device.Uid}: ")
                    + (device.CollisionsOfItsOwn >= FewestCollisions
                        ? "several answer when only it is asked for."
                        : "one request was answered twice.")) with
            {
                Measured = $"{Words.Count(device.CollisionsOfItsOwn, "collision")} in a search for it alone, {Words.Count(device.SecondAnswers, "second answer")}",
                Limit = "one device for a UID",
                LimitSource = Secondary,
                Action = "Take one of the two off the line and ask again; the UID is set by the maker, so one of them needs service.",
                Cautions = [Caution.Unplugging, Caution.Ladder],
            };
        }

        foreach (IGrouping<RdmUid, RdmDevice> same in rdm.Devices.Where(device => device.IsHeard || device.IsInTable).GroupBy(device => device.Uid).Where(group => group.Count() > 1))
        {
            RdmDevice first = same.First();
            RdmDevice second = same.OrderBy(device => device.First).ElementAt(1);
            yield return About(
                first,
                new RdmSpan(second.First, same.Max(device => device.Last), second.FirstRecord),
                "rdm-uid-on-several-universes",
                Severity.Warning,
                $"The RDM device {first.Name} is named on {Words.List(same.Select(device => device.Universe.Label))}: it was moved, two have the same UID, or two lines are joined.") with
            {
                Limit = "one device for a UID",
                LimitSource = Secondary,
                Action = "Follow its cable; where two lines are joined, part them.",
                Cautions = [Caution.Unplugging, Caution.Ladder],
            };
        }
    }

    private static IEnumerable<Finding> PastTheEnd(RdmDevice device)
    {
        if (device.LastSlot is > LastSlot)
        {
            yield return About(
                device,
                device.AddressSaid,
                "rdm-past-slot-512",
                Severity.Fault,
                Words.Invariant($"{device.Universe.Label}: the RDM device {device.Name} reads from slot {device.StartAddress} on and takes {device.Footprint} slots: the last {device.LastSlot - LastSlot} of them do not exist.")) with
            {
                Measured = Words.Invariant($"slots {device.StartAddress} to {device.LastSlot}"),
                Limit = "slot 512",
                LimitSource = "ANSI E1.11, known from secondary sources",
                Action = Words.Invariant($"Set it to {LastSlot - device.Footprint + 1} or lower, or to a personality with fewer slots."),
                Cautions = BeforeSetting,
            };
        }
    }

    // Equal places may be meant (units that do the same); a part of each other's slots never is.
    private static IEnumerable<Finding> Overlaps(UniverseId universe, IReadOnlyList<RdmDevice> devices)
    {
        RdmDevice[] placed = [.. devices.Where(device => device.Universe == universe && device.LastSlot is not null).OrderBy(device => device.StartAddress).ThenBy(device => device.Footprint)];
        for (int i = 0; i < placed.Length; i++)
        {
            RdmDevice one = placed[i];
            foreach (RdmDevice other in placed.Skip(i + 1).TakeWhile(other => other.StartAddress <= one.LastSlot))
            {
                if (other.StartAddress == one.StartAddress && other.Footprint == one.Footprint)
                {
                    continue;
                }

                yield return About(
                    one,
                    Both([one, other]),
                    "rdm-addresses-overlap",
                    Severity.Fault,
                    Words.Invariant($"{universe.Label}: the RDM devices {one.Name} and {other.Name} share {Slots(other.StartAddress!.Value, Math.Min(one.LastSlot!.Value, other.LastSlot!.Value))}: ")
                        + Words.Invariant($"one reads {one.StartAddress} to {one.LastSlot}, the other {other.StartAddress} to {other.LastSlot}.")) with
                {
                    Measured = Words.Invariant($"slots {one.StartAddress} to {one.LastSlot} and {other.StartAddress} to {other.LastSlot}"),
                    Action = "Compare with the patch sheet (dmxprobe patch check SHEET --capture INPUT) which of the two is wrong.",
                    Cautions = BeforeSetting,
                };
            }
        }

        foreach (RdmDevice[] pair in placed.GroupBy(device => (device.StartAddress, device.Footprint)).Select(group => group.ToArray()).Where(group => group.Length > 1))
        {
            yield return About(
                pair[0],
                Both(pair),
                "rdm-same-address",
                Severity.Info,
                Words.Invariant($"{universe.Label}: {pair.Length} RDM devices read the same slots {pair[0].StartAddress} to {pair[0].LastSlot}: {Words.List(pair.Select(device => device.Name))}; fine where they are meant to do the same.")) with
            {
                Action = "If they are not meant to do the same, compare with the patch sheet: dmxprobe patch check SHEET --capture INPUT.",
            };
        }
    }

    // It is known once the last of them has said where it reads.
    private static RdmSpan? Both(RdmDevice[] devices)
    {
        RdmSpan[] said = [.. devices.Select(device => device.AddressSaid).OfType<RdmSpan>().OrderBy(span => span.From)];
        return said.Length == 0 ? null : new RdmSpan(said[^1].From, said.Max(span => span.To), said[^1].FirstRecord);
    }

    private static string Slots(int from, int to) => from == to ? Words.Invariant($"slot {from}") : Words.Invariant($"slots {from} to {to}");

    private static IEnumerable<Finding> Told(RdmDevice device)
    {
        foreach (RdmAddressChange change in device.AddressChanges)
        {
            yield return About(
                device,
                new RdmSpan(change.Time, change.Time, change.Record),
                "rdm-address-changed",
                Severity.Info,
                Words.Invariant($"{device.Universe.Label}: the RDM device {device.Name} went from address {change.From} to {change.To}, ")
                    + (change.SetBy is RdmUid by ? $"set by {by}." : "and nobody set it by RDM in the capture: it was set at the device.")) with
            {
                Action = "If nobody meant to, compare with the patch sheet: dmxprobe patch check SHEET --capture INPUT.",
            };
        }

        if (device.IsIdentifying == true)
        {
            yield return About(
                device,
                device.IdentifyingFrom,
                "rdm-identify-on",
                Severity.Warning,
                $"{device.Universe.Label}: the RDM device {device.Name} is told to show itself (IDENTIFY_DEVICE): it flashes or moves whatever the levels say.") with
            {
                Action = "Switch identify off at the RDM controller.",
            };
        }

        if (device.Refusals.FirstOrDefault(refusal => refusal.IsSet) is RdmRefusal refused)
        {
            yield return About(
                device,
                refused.Seen,
                "rdm-change-refused",
                Severity.Warning,
                $"{device.Universe.Label}: the RDM device {device.Name} refused to change {RdmParameter.Name(refused.Parameter)} {Words.Count(refused.Count, "time")}: {refused.Why}.") with
            {
                Measured = Words.Count(refused.Count, "refusal"),
                Action = refused.Reason == 4 ? "Unlock it at its own menu, or set it there." : "Set it at the device.",
                Cautions = [Caution.Setting, Caution.Ladder],
            };
        }
    }
}
