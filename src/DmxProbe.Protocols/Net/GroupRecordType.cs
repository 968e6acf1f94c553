namespace DmxProbe.Protocols.Net;

/// <summary>What a group record of a report says (RFC 3376 section 4.2.12, RFC 3810 section 5.2.12). Other numbers may come.</summary>
public enum GroupRecordType
{
    /// <summary>Listens to the sources listed only; none listed means not at all.</summary>
    ModeIsInclude = 1,

    /// <summary>Listens to every source but those listed.</summary>
    ModeIsExclude = 2,

    /// <summary>From now on only the sources listed; none listed means it leaves.</summary>
    ChangeToInclude = 3,

    /// <summary>From now on every source but those listed: it joins.</summary>
    ChangeToExclude = 4,

    /// <summary>The sources listed in addition.</summary>
    AllowNewSources = 5,

    /// <summary>The sources listed no longer.</summary>
    BlockOldSources = 6,
}
