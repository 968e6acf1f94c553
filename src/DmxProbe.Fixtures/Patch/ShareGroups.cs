namespace DmxProbe.Fixtures.Patch;

/// <summary>Which units share an address on purpose: said by either of two, and by way of a third.</summary>
internal sealed class ShareGroups
{
    private readonly Dictionary<PatchUnit, PatchUnit> _parent = new(ReferenceEqualityComparer.Instance);

    public ShareGroups(PatchSheet sheet)
    {
        foreach (PatchUnit unit in sheet.Units)
        {
            foreach (PatchUnit other in unit.SharesWith.Select(sheet.Find).OfType<PatchUnit>())
            {
                _parent[Of(unit)] = Of(other);
            }
        }
    }

    /// <summary>The unit that stands for the group of a unit.</summary>
    public PatchUnit Of(PatchUnit unit)
    {
        while (_parent.TryGetValue(unit, out PatchUnit? parent) && !ReferenceEquals(parent, unit))
        {
            if (_parent.TryGetValue(parent, out PatchUnit? above))
            {
                _parent[unit] = above; // halves the path: long chains of sharing stay cheap
            }

            unit = parent;
        }

        return unit;
    }
}
