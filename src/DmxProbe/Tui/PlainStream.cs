using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Text;

namespace DmxProbe.Tui;

/// <summary>A line for each thing that happened between two pictures: for screen readers and logs.</summary>
/// <param name="output">Where lines go.</param>
/// <param name="zone">The zone of times.</param>
internal sealed class PlainStream(TextWriter output, TimeZoneInfo zone)
{
    private readonly WallClock _clock = new(zone, null, null);
    private readonly Dictionary<(string Universe, int Sender), string> _senders = [];
    private readonly Dictionary<string, string> _obeyed = [];
    private readonly HashSet<(string Id, string Subject, Severity Severity)> _findings = [];
    private readonly List<(Timestamp Time, string Text)> _lines = [];

    /// <summary>Tells what is new in a picture.</summary>
    public void Tell(RigPicture picture)
    {
        foreach (UniversePicture universe in picture.Universes)
        {
            string label = universe.Summary.Id.Label;
            foreach (SenderPicture sender in universe.Senders)
            {
                string state = StateOf(sender.Stream);
                bool isNew = !_senders.ContainsKey((label, sender.Stream.Sender.Index));
                if (_senders.GetValueOrDefault((label, sender.Stream.Sender.Index)) != state)
                {
                    _senders[(label, sender.Stream.Sender.Index)] = state;
                    if (isNew)
                    {
                        // It began with its first frame, not when this picture was made.
                        _lines.Add((sender.Stream.First, $"{label}: {sender.Name} sends"));
                    }

                    if (!isNew || sender.Stream.Terminated || sender.Stream.Silent)
                    {
                        Line(picture, $"{label}: {sender.Name} {state}");
                    }
                }
            }

            string obeyed = string.Join(" and ", universe.Senders.Where(sender => sender.Obeyed).Select(sender => sender.Name).Order(StringComparer.Ordinal));
            if (_obeyed.GetValueOrDefault(label) != obeyed)
            {
                bool isFirst = _obeyed.TryAdd(label, obeyed);
                _obeyed[label] = obeyed;
                Timestamp since = isFirst && obeyed.Length > 0 ? universe.Senders.Where(sender => sender.Obeyed).Max(sender => sender.Stream.First) : picture.At;
                _lines.Add((since, obeyed.Length == 0 ? $"{label}: nobody is obeyed" : $"{label}: obeyed is {obeyed}"));
            }
        }

        foreach (Finding finding in picture.Survey.Findings)
        {
            if (_findings.Add((finding.Id, finding.Subject, finding.Severity)))
            {
                Line(picture, $"{Screen.Word(finding.Severity)}: {finding.Text}{(finding.Action.Length > 0 ? " Next: " + finding.Action : "")}");
                foreach (string caution in finding.Cautions)
                {
                    Line(picture, "Mind: " + caution);
                }
            }
        }

        if (picture.Ended)
        {
            Line(picture, "the input has ended; " + Screen.Sentence(picture));
        }

        foreach ((Timestamp time, string text) in _lines.OrderBy(line => line.Time))
        {
            output.WriteLine(_clock.Time(time) + " " + Printable.Text(text));
        }

        _lines.Clear();
        output.Flush();
    }

    private static string StateOf(StreamSummary stream) =>
        stream.Terminated ? "has ended its stream" : stream.Silent ? "has gone silent" : "sends";

    private void Line(RigPicture picture, string text) => _lines.Add((picture.At, text));
}
