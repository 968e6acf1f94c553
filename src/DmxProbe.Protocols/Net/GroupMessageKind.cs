namespace DmxProbe.Protocols.Net;

/// <summary>What an IGMP or MLD message is for.</summary>
public enum GroupMessageKind
{
    /// <summary>A querier asks who listens.</summary>
    Query,

    /// <summary>A host says what it listens to.</summary>
    Report,

    /// <summary>A host says that it stops listening (a version 3 or MLDv2 host says it in a report).</summary>
    Leave,
}
