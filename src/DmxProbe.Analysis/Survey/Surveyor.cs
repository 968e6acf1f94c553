using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Decoding.Line;
using DmxProbe.Protocols.Line;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Survey;

/// <summary>Runs a survey over sources from beginning to end.</summary>
public static class Surveyor
{
    /// <summary>Surveys a source; several inputs are merged by the caller.</summary>
    /// <param name="source">The source; not disposed.</param>
    /// <param name="cancellation">Stops the run; what was seen until then is the result.</param>
    /// <param name="line">What a person says about line recordings; null: nothing.</param>
    public static SurveySnapshot Run(ICaptureSource source, CancellationToken cancellation, LineOptions? line = null)
    {
        RecordDecoder decoder = new(line ?? LineOptions.Found);
        SurveyAnalyzer survey = new();
        return Run(source, decoder, survey, survey, cancellation);
    }

    /// <summary>Surveys a source while other analyzers see the same frames.</summary>
    /// <param name="source">The source; not disposed.</param>
    /// <param name="decoder">The decoder; its tables name the senders.</param>
    /// <param name="survey">The survey's own analyzers.</param>
    /// <param name="analyzer">What is fed: <paramref name="survey"/> alone or in a <see cref="FanOut"/>.</param>
    /// <param name="cancellation">Stops the run.</param>
    public static SurveySnapshot Run(
        ICaptureSource source,
        RecordDecoder decoder,
        SurveyAnalyzer survey,
        IAnalyzer analyzer,
        CancellationToken cancellation)
    {
        new Session(source, decoder, analyzer).Run(cancellation);
        return survey.Snapshot(decoder, Inputs(source, decoder));
    }

    /// <summary>What was counted so far of each input of a source.</summary>
    public static IReadOnlyList<InputSummary> Inputs(ICaptureSource source, RecordDecoder decoder)
    {
        ArgumentNullException.ThrowIfNull(source);
        ArgumentNullException.ThrowIfNull(decoder);
        IReadOnlyList<SourcePart> parts = source is IMergedSource merged
            ? merged.Parts
            : [new SourcePart(source, [.. source.Interfaces.Select(captureInterface => captureInterface.Id)])];
        return [.. parts.Select(part => Describe(part, decoder))];
    }

    private static InputSummary Describe(SourcePart part, RecordDecoder decoder)
    {
        InputCounts sum = default;
        foreach (int interfaceId in part.InterfaceIds)
        {
            sum = Add(sum, decoder.CountsOf(interfaceId));
        }

        bool any = sum.Records > 0;
        return new InputSummary
        {
            Name = part.Source.Name,
            Records = sum.Records,
            First = any ? sum.First : null,
            Last = any ? sum.Last : null,
            Malformed = sum.Malformed,
            CutBySnapLength = sum.CutBySnapLength,
            Fragments = sum.Fragments,
            LostByCapture = sum.LostByCapture,
            OtherTraffic = sum.OtherTraffic,
            Cut = part.Source.Problem,
            Interfaces = [.. part.Source.Interfaces],
            Notes = part.Source is INotedSource noted ? [.. noted.Notes] : [],
            Assumptions = part.Source is ILineSource line ? [.. line.Assumptions] : [],
        };
    }

    private static InputCounts Add(InputCounts left, InputCounts right)
    {
        if (right.Records == 0)
        {
            return left;
        }

        return new InputCounts
        {
            First = left.Records == 0 || right.First < left.First ? right.First : left.First,
            Last = left.Records == 0 || right.Last > left.Last ? right.Last : left.Last,
            Records = left.Records + right.Records,
            Malformed = left.Malformed + right.Malformed,
            CutBySnapLength = left.CutBySnapLength + right.CutBySnapLength,
            Fragments = left.Fragments + right.Fragments,
            LostByCapture = left.LostByCapture + right.LostByCapture,
            OtherTraffic = left.OtherTraffic + right.OtherTraffic,
        };
    }
}
