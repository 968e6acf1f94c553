using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.Dmx512;

namespace DmxProbe.Analysis.Findings.Rules;

/// <summary>Frames whose START code is not 0: never levels, and a fixture that takes them as levels flashes.</summary>
internal sealed class StartCodeRule : ISurveyRule
{
    public IEnumerable<Finding> Judge(SurveySnapshot snapshot) =>
        from universe in snapshot.Universes
        from stream in universe.Streams
        from code in stream.StartCodes
        where code.Value != 0
        select new Finding
        {
            Id = code.Value == StartCode.PerAddressPriority ? "per-address-priority" : "alternate-start-code",
            Severity = Severity.Info,
            Subject = universe.Id.Label,
            Text = Words.Invariant($"{universe.Id.Label} from {Words.Name(stream.Sender)}: {Words.Count(code.Count, "frame")} with ")
                + $"START code {StartCode.Name((byte)code.Value)}; not levels"
                + (code.Value == StartCode.PerAddressPriority
                    ? ", but they may decide slot by slot who is obeyed; this survey judges whole universes."
                    : "; a fixture that takes them as levels flickers."),
            Measured = Words.Count(code.Count, "frame"),
            From = stream.First,
            To = stream.Last,
            FirstRecord = stream.FirstRecord,
        };
}
