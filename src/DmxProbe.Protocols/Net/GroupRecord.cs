namespace DmxProbe.Protocols.Net;

/// <summary>What a host says of one group.</summary>
/// <param name="Type">What it says.</param>
/// <param name="Group">The group.</param>
/// <param name="Sources">How many sources it lists.</param>
public readonly record struct GroupRecord(GroupRecordType Type, IpAddress Group, int Sources)
{
    /// <summary>Whether the host listens to the group from now on.</summary>
    public bool Listens => Type switch
    {
        GroupRecordType.ModeIsExclude or GroupRecordType.ChangeToExclude => true,
        GroupRecordType.ModeIsInclude or GroupRecordType.ChangeToInclude or GroupRecordType.AllowNewSources => Sources > 0,
        _ => false,
    };

    /// <summary>Whether the host stops listening to the group.</summary>
    public bool Leaves => Type is GroupRecordType.ModeIsInclude or GroupRecordType.ChangeToInclude && Sources == 0;
}
