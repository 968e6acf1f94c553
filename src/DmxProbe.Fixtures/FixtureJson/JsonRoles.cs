using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Fixtures.FixtureJson;

/// <summary>The role of a slot whose ranges do different things; the more dangerous reading wins.</summary>
internal static class JsonRoles
{
    private static readonly SlotRole[] Aside = [SlotRole.Control, SlotRole.Programme, SlotRole.Speed];

    /// <summary>The role of all together; <see cref="SlotRole.None"/> counts only when there is nothing else.</summary>
    public static SlotRole Mixed(IEnumerable<SlotRole> roles)
    {
        HashSet<SlotRole> found = [.. roles.Where(role => role != SlotRole.None)];
        if (found.Count == 0)
        {
            return SlotRole.None;
        }

        if (found.Contains(SlotRole.Hazard) || found.Contains(SlotRole.Unknown))
        {
            return found.Contains(SlotRole.Hazard) ? SlotRole.Hazard : SlotRole.Unknown;
        }

        // One slot for dimmer and strobe: its ranges say where it strobes.
        if (found.Contains(SlotRole.Intensity))
        {
            found.Remove(SlotRole.Shutter);
        }

        // Resets, programmes and their pace are said by the ranges; what the slot is for otherwise is its role.
        SlotRole[] main = [.. found.Where(role => !Aside.Contains(role))];
        return main.Length switch
        {
            1 => main[0],
            0 => Aside.First(found.Contains),
            _ => SlotRole.Unknown,
        };
    }

    /// <summary>The role, or a hazard when the words name one; the rule of typed charts.</summary>
    public static SlotRole OrHazard(SlotRole role, string function, IEnumerable<string> meanings)
    {
        bool dangerousAlready = role is SlotRole.Programme or SlotRole.Position or SlotRole.Control or SlotRole.Speed or SlotRole.Shutter or SlotRole.Hazard;
        return !dangerousAlready && RoleInference.RoleOf(function, meanings) == SlotRole.Hazard ? SlotRole.Hazard : role;
    }
}
