using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Locate.Ask;
using DmxProbe.Cli;
using DmxProbe.Cli.Ask;
using DmxProbe.Cli.Text;
using DmxProbe.Tests.Tui;

namespace DmxProbe.Tests.Cli.Ask;

public class AskDialogueTests
{
    // The same rule as on the screen: "dark" of a light that nobody sends to says nothing.
    [Fact]
    public void While_nobody_sends_what_was_asked_for_only_cannot_tell_is_taken_and_it_is_said_before()
    {
        using StringWriter output = new() { NewLine = "\n" };
        using StringReader answers = new("no\nd\nl\nu\nq\n");
        ProgramHost host = new(output, TextWriter.Null, 120, false, TimeZoneInfo.Utc, default) { Clock = new SteppedClock() };
        AskSession? session = new AskDialogue(host, answers, output, () => new TextPage(2000, false), new AskController("ranges", 0), null, new SilentWire()).Run(Hall.Gathered("LX1-6"));
        string[] said = output.ToString().Split('\n');
        Assert.Equal(1, session!.Answered);
        Assert.Equal(2, said.Count(line => line.Contains("Not taken: nobody sends ", StringComparison.Ordinal)));
        Assert.Equal(4, said.Count(line => line.Contains(" now; with people clear, start the controller, or an answer means nothing.", StringComparison.Ordinal)));
    }

    // What was heard has stopped.
    private sealed class SilentWire : IAskWire
    {
        public void Start()
        {
            // It has been listening all the time.
        }

        public IReadOnlyList<byte[]>? Levels(IReadOnlyList<UniverseId> universes, IReadOnlyList<byte[]> otherwise) => null;

        public int Deciding(UniverseId universe) => 0;

        public bool FellSilent(UniverseId universe) => true;
    }
}
