namespace DmxProbe.Reporting.Tables;

/// <summary>What the patch sheet and its charts call a slot.</summary>
/// <param name="Unit">The units there, with <c> + </c> between several that share it.</param>
/// <param name="Function">The chart's word for what the slot does; empty without a chart.</param>
public sealed record SlotName(string Unit, string Function);
