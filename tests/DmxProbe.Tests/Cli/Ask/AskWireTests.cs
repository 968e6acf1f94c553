using DmxProbe.Analysis.Decoding;
using DmxProbe.Capture.Files;
using DmxProbe.Cli.Ask;
using DmxProbe.Protocols.CaptureFiles;
using DmxProbe.Protocols.Records;
using DmxProbe.Tests.Tui;

namespace DmxProbe.Tests.Cli.Ask;

public class AskWireTests
{
    private static readonly TimeSpan Longest = TimeSpan.FromSeconds(30);

    [Fact]
    public void Where_the_input_has_gone_its_last_levels_do_not_stand_for_ever()
    {
        UniverseId universe = Hall.At(30).Universes[0].Summary.Id;
        using FailingSource source = new();
        using AskWire wire = new(() => source);
        wire.Start();
        Assert.True(SpinWait.SpinUntil(() => wire.Levels([universe], [new byte[512]]) is not null, Longest));
        source.Fails.Set();
        Assert.True(SpinWait.SpinUntil(() => wire.Levels([universe], [new byte[512]]) is null, Longest));
        Assert.Equal(0, wire.Deciding(universe));
        Assert.False(wire.FellSilent(universe)); // not known
    }

    // A recording in place of a live input, whose device is pulled at its end.
    private sealed class FailingSource : ICaptureSource
    {
        private readonly ICaptureSource _file = CaptureFile.Open(Hall.Network, LineFileOptions.None);

        public ManualResetEventSlim Fails { get; } = new();

        public string Name => _file.Name;

        public IReadOnlyList<CaptureInterface> Interfaces => _file.Interfaces;

        public InputProblem? Problem => _file.Problem;

        public ReadStatus Read(out CaptureRecord record)
        {
            ReadStatus status = _file.Read(out record);
            if (status != ReadStatus.End)
            {
                return status;
            }

            _ = Fails.Wait(Longest);
            throw new IOException("pulled");
        }

        // Twice, as a test and the wire each close it.
        public void Dispose()
        {
            _file.Dispose();
            Fails.Dispose();
        }
    }
}
