using DmxProbe.Analysis.Decoding;

namespace DmxProbe.Tui;

/// <summary>Where the person is: which view, what is chosen, what is being typed. Changed by keys only, on the screen's thread.</summary>
internal sealed class ScreenState
{
    /// <summary>The view.</summary>
    public ScreenView View { get; set; }

    /// <summary>The unit to be located as soon as its picture is there; null for none. Untrusted text.</summary>
    public string? Suspect { get; set; }

    /// <summary>The view that the guided questions were reached from.</summary>
    public ScreenView From { get; set; }

    /// <summary>The universe chosen; null: the first of the list. Held by name, because the list sorts itself anew.</summary>
    public UniverseId? Universe { get; set; }

    /// <summary>First row shown of the Universe view.</summary>
    public int Top { get; set; }

    /// <summary>Which of the universe's senders is shown, from 0.</summary>
    public int Sender { get; set; }

    /// <summary>The finding chosen, from 0.</summary>
    public int Finding { get; set; }

    /// <summary>The figure chosen of the Timing view, from 0.</summary>
    public int Figure { get; set; }

    /// <summary>First slot shown of the Unit view, from 0.</summary>
    public int UnitTop { get; set; }

    /// <summary>Whether the Universe view is to bring the chosen unit into sight.</summary>
    public bool Follow { get; set; }

    /// <summary>The name being typed; null when none is.</summary>
    public string? Typing { get; set; }

    /// <summary>Whether what is typed is a time, not a unit.</summary>
    public bool TypingTime { get; set; }

    /// <summary>The unit chosen; null when none is. Untrusted text.</summary>
    public string? Unit { get; set; }

    /// <summary>What the last key could not do; empty when it did.</summary>
    public string Answer { get; set; } = "";

    /// <summary>The universe chosen, as it is now; null when nothing is sent.</summary>
    public UniversePicture? ChosenIn(RigPicture picture)
    {
        IReadOnlyList<UniversePicture> universes = picture.Universes;
        for (int index = 0; Universe is not null && index < universes.Count; index++)
        {
            if (universes[index].Summary.Id == Universe)
            {
                return universes[index];
            }
        }

        return universes.Count > 0 ? universes[0] : null;
    }
}
