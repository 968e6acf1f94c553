using DmxProbe.Analysis.Survey;

namespace DmxProbe.Analysis.Findings;

/// <summary>What a capture holds, in a few words: it may have no levels and yet a lot to look at.</summary>
public static class SurveyContents
{
    /// <summary>The universes; without any, that there are no levels, and what there is.</summary>
    /// <param name="survey">The survey.</param>
    public static string Of(SurveySnapshot survey)
    {
        ArgumentNullException.ThrowIfNull(survey);
        return survey.Universes.Count > 0 ? Words.Count(survey.Universes.Count, "universe") : "no levels" + Else(survey);
    }

    /// <summary>What there is beside levels, as the end of a sentence: <c>, but RDM of 8 devices</c>; empty where there is nothing.</summary>
    internal static string Else(SurveySnapshot survey)
    {
        List<string> parts = [];
        if (survey.Rdm is { } rdm)
        {
            parts.Add($"RDM of {Words.Count(rdm.Devices.Count, "device")}");
        }

        Add(survey.Discovery.Count, "lists of universes (discovery) of", "sACN sender");
        if (survey.SyncPackets.Count > 0)
        {
            parts.Add("sACN synchronization");
        }

        Add(survey.ArtSyncSenders.Count, "ArtSync of", "sender");
        Add(survey.Pollers.Count, "ArtPoll of", "controller");
        Add(survey.Nodes.Count, "poll replies of", "Art-Net device");
        return parts.Count == 0 ? "" : ", but " + Words.List(parts);

        void Add(int count, string what, string whose)
        {
            if (count > 0)
            {
                parts.Add($"{what} {Words.Count(count, whose)}");
            }
        }
    }
}
