using System.Globalization;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Survey;
using DmxProbe.Capture.Files;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Arbitration;
using DmxProbe.Testing.Files;

namespace DmxProbe.Analysis.Tests.Arbitration;

/// <summary>Who is merged, who is ignored and since when, on Port-Address 1 of captures/arbitration/who-wins.pcapng (Art-Net 4, 1.4dn, pages 50, 76 and 77).</summary>
public sealed class ObeyedSpanTests
{
    private static readonly UniverseId Merged = new(UniverseProtocol.ArtNet, 1);

    // A 0 to 30 s, B 2.1 to 8.1 s and held for 10 s more, C from 5.5 s; AcCancelMerge at 20.2 s, C is the next to send.
    [Fact]
    public void A_merge_that_lets_go_or_is_cancelled_ends_its_span()
    {
        UniverseSummary universe = Assert.Single(Survey().Universes, each => each.Id == Merged);

        string Name(int sender) => universe.Streams.Single(stream => stream.Sender.Index == sender).Sender.Address switch
        {
            "10.20.0.21" => "A",
            "10.20.0.22" => "B",
            _ => "C",
        };
        Assert.Equal(
        [
            "0.0-2.1 A",
            "2.1-5.5 A+B",
            "5.5-18.1 A+B without C",
            "18.1-18.5 A without C",
            "18.5-20.5 A+C",
            "20.5-30.5 C without A, cancelled",
        ],
        universe.Obeyed.Select(span => string.Create(CultureInfo.InvariantCulture, $"{Second(span.From):0.0}-{Second(span.To):0.0} {string.Join('+', span.Senders.Select(Name))}")
            + (span.Ignored.Count == 0 ? "" : " without " + string.Join('+', span.Ignored.Select(Name)))
            + (span.IsMergeCancelled ? ", cancelled" : "")));
    }

    [Fact]
    public void Three_at_once_are_three_from_the_first_packet_of_the_third_to_the_last_of_the_first_that_stops()
    {
        Finding finding = Assert.Single(Survey().Findings, each => each.Id == "several-art-net-senders" && each.Subject == Merged.Label);

        Assert.Equal(Severity.Fault, finding.Severity);
        Assert.Equal((5.5, 8.1), (Math.Round(Second(finding.From), 3), Math.Round(Second(finding.To), 3)));
        Assert.Equal("3 senders at once for 2.60 s", finding.Measured);
        Assert.Equal(93, finding.FirstRecord);
    }

    private static double Second(Timestamp time) => (time - TrafficScript.Start).TotalSeconds;

    private static SurveySnapshot Survey()
    {
        using ICaptureSource source = CaptureFile.Open(Path.Combine([Places.Repository, "captures", .. WhoWins.File.Split('/')]));
        return Surveyor.Run(source, CancellationToken.None);
    }
}
