using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Findings;

namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: no device outputs a universe that is sent.</summary>
internal sealed class NoDeviceOutputs() : Cause(
    new CauseCard("no-device-outputs", CauseGroup.Network, "no device outputs the universe")
    {
        Needs = [CauseInputs.Network | CauseInputs.Sheet],
        Test = "Devices answer ArtPoll and list outputs, one at least on a universe of the sheet, and none lists another Art-Net universe of the sheet. Only devices that answered are known.",
        Explains = ["sent-to-unlisted-port", "output-without-sender"],
        Fix = "Set a gateway's output to this universe: number and direction.",
        Check = new NextCheck("Look at the port setting of the gateway: universe number, output and not input.", 60),
        Cautions = [Caution.Returning],
    })
{
    /// <inheritdoc/>
    public override IEnumerable<CauseReport> Find(DiagnosisCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        HashSet<int> outputs = [.. it.Survey.Nodes.SelectMany(node => node.Outputs)];
        UniverseId[] sent = [.. it.Wire.Values.Distinct().Where(id => id.Protocol == UniverseProtocol.ArtNet && it.Summary(id) is not null)];
        foreach (UniverseId id in sent.Where(id => !outputs.Contains(id.Number)).Order())
        {
            if (!sent.Any(other => outputs.Contains(other.Number)) && !outputs.Any(other => Math.Abs(other - id.Number) is 1 or 16))
            {
                continue;
            }

            int[] lists = [.. outputs.Order().Take(8)];
            yield return Report(
                CauseState.Possible,
                id.Label,
                FormattableString.Invariant($"{id.Label} is sent, but no device that answers has an output set to it; they list Port-Address {string.Join(", ", lists)}."),
                new CauseEvidence(FormattableString.Invariant($"{Words.Count(it.Survey.Nodes.Count, "device")} answered; {Words.Count(outputs.Count, "output")} listed."))) with
            {
                Severity = Severity.Warning,
                Universe = id,
            };
        }
    }
}
