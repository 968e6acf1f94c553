using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Light;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>What a person saw at a moment, held against what every place would have shown.</summary>
public static class LookEvidence
{
    /// <summary>How much earlier than its time a note may speak of, seconds: people look, then write.</summary>
    public const double Longest = 1.6;

    /// <summary>No reaction is quicker than this, seconds.</summary>
    public const double Shortest = 0.1;

    // A light of which nothing is known; while somebody raises slots on a dark stage it most likely stays dark.
    private const double UnknownLit = 0.5;
    private const double UnknownLitOnDarkStage = 0.1;
    private const double Surely = 0.9;
    private const double Hardly = 0.05;
    private const int Frames = 16;
    private const int FramesOfLight = 10;
    private const int FlipsOfFlashing = 3;
    private const double Flip = 0.1;

    /// <summary>A look while known levels stood: the answer to a guided question.</summary>
    /// <param name="space">The places.</param>
    /// <param name="levels">512 levels of every universe.</param>
    /// <param name="seen">What was seen; not <see cref="SeenKind.Tap"/> or <see cref="SeenKind.Rdm"/>.</param>
    /// <param name="text">What it is, for a person.</param>
    /// <param name="time">When, if that is known.</param>
    /// <param name="or">Levels that may have stood instead, as likely as those; null where the levels are known.</param>
    public static AskEvidence OfLevels(AskSpace space, IReadOnlyList<byte[]> levels, Seen seen, string text, Timestamp? time, IReadOnlyList<byte[]>? or = null)
    {
        ArgumentNullException.ThrowIfNull(space);
        ArgumentNullException.ThrowIfNull(levels);
        ArgumentNullException.ThrowIfNull(seen);
        float[] right = new float[space.Count + 1];
        float[] wrong = new float[space.Count + 1];
        for (int i = 0; i < space.Count; i++)
        {
            AskPlace place = space.PlaceAt(i);
            float share = or is null ? 1 : 0.5f;
            LightOutput light = space.Light(place.Address, place.Mode, levels[place.Universe]);
            Add(seen, in light, !light.Predictable, false, share, ref right[i], ref wrong[i]);
            if (or is not null)
            {
                LightOutput other = space.Light(place.Address, place.Mode, or[place.Universe]);
                Add(seen, in other, !other.Predictable, false, share, ref right[i], ref wrong[i]);
            }
        }

        Unknown(seen, UnknownLitOnDarkStage, ref right[^1], ref wrong[^1]);
        return AskEvidence.OfEye(AskEvidenceKind.Answer, text, time, right, wrong);
    }

    /// <summary>A look at a moment of the capture; which of several senders of a universe the light obeys is left open.</summary>
    /// <param name="space">The places.</param>
    /// <param name="histories">What was captured.</param>
    /// <param name="time">When it was noted.</param>
    /// <param name="seen">What was seen; not <see cref="SeenKind.Tap"/> or <see cref="SeenKind.Rdm"/>.</param>
    /// <param name="text">What it is, for a person.</param>
    public static AskEvidence OfCapture(AskSpace space, IReadOnlyList<SlotHistory> histories, Timestamp time, Seen seen, string text)
    {
        ArgumentNullException.ThrowIfNull(space);
        ArgumentNullException.ThrowIfNull(histories);
        ArgumentNullException.ThrowIfNull(seen);
        float[] right = new float[space.Count + 1];
        float[] wrong = new float[space.Count + 1];
        for (int u = 0; u < space.Universes.Count; u++)
        {
            SlotHistory[] senders = [.. histories.Where(history => history.Universe == space.Universes[u])];
            foreach (SlotHistory history in senders)
            {
                Sender(space, u, HistoryFrames.At(history, Samples(history, time)), seen, 1f / senders.Length, right, wrong);
            }
        }

        Unknown(seen, UnknownLit, ref right[^1], ref wrong[^1]);
        return AskEvidence.OfEye(AskEvidenceKind.Look, text, time, right, wrong);
    }

    private static int[] Samples(SlotHistory history, Timestamp time)
    {
        double at = (time - history.Start).TotalSeconds;
        return [.. Enumerable.Range(0, Frames).Select(k =>
            (int)Math.Clamp((at - Longest + (k * (Longest - Shortest) / (Frames - 1))) * SlotHistory.RatePerSecond, -1, int.MaxValue / 2))];
    }

    private static void Sender(AskSpace space, int universe, byte[][] frames, Seen seen, float share, float[] right, float[] wrong)
    {
        LightOutput[] lights = new LightOutput[Frames];
        int[][] positions = [.. space.Modes.Select(mode => mode.Slots.Where(slot => slot.Role == SlotRole.Position).Select(slot => slot.Slot - 1).ToArray())];
        for (int m = 0; m < space.Modes.Count; m++)
        {
            for (int address = 1; address <= SlotHistory.SlotCount; address++)
            {
                int flips = 0;
                double last = double.NaN;
                for (int k = 0; k < Frames; k++)
                {
                    lights[k] = space.Light(address, m, frames[k]);
                    flips += Math.Abs(lights[k].Luminance - last) > Flip ? 1 : 0;
                    last = lights[k].Luminance;
                }

                bool moves = seen.Kind == SeenKind.Moving && positions[m].Any(offset => address + offset <= SlotHistory.SlotCount &&
                    frames.Any(frame => frame[address + offset - 1] != frames[0][address + offset - 1]));
                int index = space.IndexOf(new AskPlace(universe, address, m));
                for (int k = Frames - FramesOfLight; k < Frames; k++)
                {
                    Add(seen, in lights[k], !lights[k].Predictable || flips >= FlipsOfFlashing, moves, share / FramesOfLight, ref right[index], ref wrong[index]);
                }
            }
        }
    }

    private static void Add(Seen seen, in LightOutput light, bool flashes, bool moves, float share, ref float right, ref float wrong)
    {
        double lit = Eye.Lit(in light);
        (double yes, double no) = seen.Kind switch
        {
            SeenKind.Dark => (1 - lit, lit),
            SeenKind.Lit when seen.Colour is SeenColour colour => (lit * Eye.Called(in light, colour), 1.0 / Eye.Colours),
            SeenKind.Lit => (lit, 1 - lit),
            SeenKind.Flashing => flashes ? (Surely, 1 - Surely) : (Hardly, 1 - Hardly),
            SeenKind.Moving => moves ? (Surely, 1 - Surely) : (Hardly, 1 - Hardly),
            _ => (0.5, 0.5),
        };
        right += (float)(share * yes);
        wrong += (float)(share * no);
    }

    private static void Unknown(Seen seen, double lit, ref float right, ref float wrong)
    {
        (double yes, double no) = seen.Kind switch
        {
            SeenKind.Dark => (1 - lit, lit),
            SeenKind.Lit when seen.Colour is not null => (lit / Eye.Colours, 1.0 / Eye.Colours),
            SeenKind.Lit => (lit, 1 - lit),
            SeenKind.Flashing or SeenKind.Moving => (0.2, 0.8),
            _ => (0.5, 0.5),
        };
        (right, wrong) = ((float)yes, (float)no);
    }
}
