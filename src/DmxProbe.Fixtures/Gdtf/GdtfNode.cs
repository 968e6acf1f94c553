namespace DmxProbe.Fixtures.Gdtf;

/// <summary>An element of a description, with the attributes that charts need.</summary>
internal sealed class GdtfNode(string name)
{
    private List<(string Name, string Value)>? _attributes;
    private List<GdtfNode>? _children;

    public string Name => name;

    public IReadOnlyList<GdtfNode> Children => _children ?? (IReadOnlyList<GdtfNode>)[];

    /// <summary>An attribute; null when it is not there.</summary>
    public string? this[string attribute]
    {
        get
        {
            foreach ((string known, string value) in _attributes ?? [])
            {
                if (known == attribute)
                {
                    return value;
                }
            }

            return null;
        }
    }

    public void Add(string attribute, string value) => (_attributes ??= []).Add((attribute, value));

    public void Add(GdtfNode child) => (_children ??= []).Add(child);

    /// <summary>The first child of a name, or null.</summary>
    public GdtfNode? Child(string named) => Children.FirstOrDefault(child => child.Name == named);

    /// <summary>The children of a name.</summary>
    public IEnumerable<GdtfNode> All(string named) => Children.Where(child => child.Name == named);
}
