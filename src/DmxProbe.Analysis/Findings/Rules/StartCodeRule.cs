using DmxProbe.Analysis.Conformance;
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
            Id = IdOf((byte)code.Value),
            Severity = StartCode.IsReserved((byte)code.Value) || StartCode.IsExperimental((byte)code.Value) ? Severity.Warning : Severity.Info,
            Subject = universe.Id.Label,
            Text = Words.Invariant($"{universe.Id.Label} from {Words.Name(stream.Sender)}: {Words.Count(code.Count, "frame")} with ")
                + $"START code {StartCode.Name((byte)code.Value)}; not levels"
                + (code.Value == StartCode.PerAddressPriority
                    ? ", but they decide slot by slot who is obeyed: explain --slot names the winner of a slot."
                    : StartCode.IsReserved((byte)code.Value)
                    ? "; the code is reserved, so no receiver knows it and one that takes them as levels flickers."
                    : StartCode.IsExperimental((byte)code.Value)
                    ? "; the code is for experiments, not for products; a fixture that takes them as levels flickers."
                    : "; a fixture that takes them as levels flickers."),
            LimitSource = RuleBook.SourceOf(IdOf((byte)code.Value)),
            Measured = Words.Count(code.Count, "frame"),
            Action = code.Value == StartCode.PerAddressPriority
                ? "If a light follows the wrong sender, ask explain --slot for its slot."
                : "If lights flash or flicker on this universe, switch these packets off at the sender: some fixture takes them as levels.",
            From = stream.First,
            To = stream.Last,
            FirstRecord = stream.FirstRecord,
        };

    private static string IdOf(byte code) => code switch
    {
        StartCode.PerAddressPriority => "per-address-priority",
        _ when StartCode.IsReserved(code) => "reserved-start-code",
        _ when StartCode.IsExperimental(code) => "experimental-start-code",
        _ => "alternate-start-code",
    };
}
