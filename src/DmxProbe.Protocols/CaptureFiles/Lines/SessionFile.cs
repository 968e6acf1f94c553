using System.Globalization;
using System.Text;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Protocols.CaptureFiles.Lines;

/// <summary>Opens the session zip of a logic analyser (standards-facts F2). Members are unpacked as they are read, never to a file.</summary>
internal static class SessionFile
{
    private const int LargestMetadata = 64 * 1024;
    private const int LargestUnit = 8;

    /// <summary>Starts reading a session.</summary>
    /// <param name="stream">Can seek; closed with the source.</param>
    /// <param name="start">Where in it the archive starts.</param>
    /// <param name="name">Name to print.</param>
    /// <param name="options">What the person says.</param>
    /// <exception cref="InputException">It is no session, or says too little about itself.</exception>
    public static LineSource Open(Stream stream, long start, string name, LineFileOptions options)
    {
        ZipDirectory directory;
        try
        {
            directory = ZipDirectory.Read(stream, start);
        }
        catch (IOException failure)
        {
            throw Refused(name, "the input could not be read", "", failure.Message, "");
        }

        string? text = TextOf(stream, directory, "metadata", LargestMetadata);
        if (text is null)
        {
            throw directory.IsWhole
                ? Refused(name, "a zip archive, but no session of a logic analyser", "a readable member named metadata", "none", "if a capture is packed in it, unpack it first")
                : Refused(name, "the zip archive is cut or damaged", "a directory at its end, or a member named metadata at its start", "neither", "copy it again");
        }

        if (TextOf(stream, directory, "version", 16)?.Trim() is string version && version is not ("1" or "2"))
        {
            throw Refused(name, "a session of another version", "version 1 or 2", version, "save it as VCD or CSV");
        }

        SessionMetadata metadata = SessionMetadata.Parse(text);
        (List<ZipMember> pieces, (string, string, string)? after) = PiecesOf(directory, metadata.CaptureFile);
        if (metadata.CaptureFile.Length == 0 || pieces.Count == 0)
        {
            throw Refused(name, "the session holds no logic samples", "a member with samples", metadata.Analog > 0 ? "analog channels only" : "none", "record the line with a logic channel, or export it as CSV");
        }

        if (pieces.Find(piece => piece.IsEncrypted || piece.Method is not (ZipMember.Stored or ZipMember.Deflated)) is ZipMember locked)
        {
            throw Refused(name, "the samples cannot be unpacked", "members stored or deflated", locked.IsEncrypted ? "an encrypted one" : "packing method " + locked.Method, "pack it again");
        }

        SampleLayout layout = Layout(metadata, name, options);
        SessionStream samples = new(stream, directory, pieces, after);
        return new SampleSource(new ByteWindow(samples), layout with { Members = samples }, false, name);
    }

    private static SampleLayout Layout(SessionMetadata metadata, string name, LineFileOptions options)
    {
        List<string> assumptions = [];
        long rate = metadata.Rate;
        if (rate == 0)
        {
            rate = options.Rate ?? throw Refused(
                name, "the session does not say how fast it was sampled", "samplerate=1 MHz or the like in its metadata", metadata.RateText, "give --rate");
            assumptions.Add($"The session does not say its rate; {Rates.Text(rate)} is taken from --rate.");
        }
        else if (options.Rate is long asked && asked != rate)
        {
            assumptions.Add($"The session states its rate, {Rates.Text(rate)}; --rate is not used.");
        }

        int most = metadata.Names.Count > 0 ? metadata.Names.Keys.Max() + 1 : metadata.Probes;
        int unit = metadata.Unit;
        if (unit == 0)
        {
            unit = Math.Max(1, (most + 7) / 8);
            assumptions.Add($"The session does not say how long a sample is; {CaptureDamage.Octets(unit)} are taken from its number of lines.");
        }

        List<(string, int)> channels = metadata.Names.Count > 0
            ? [.. metadata.Names.Where(line => line.Key < 8 * unit).Select(line => (line.Value, line.Key))]
            : [.. Enumerable.Range(0, Math.Min(metadata.Probes, 8 * unit)).Select(bit => ("line " + (bit + 1).ToString(CultureInfo.InvariantCulture), bit))];
        if (unit > LargestUnit || channels.Count == 0)
        {
            throw Refused(name, "the session describes its samples in a way that cannot be", "1 to 8 octets and at least one line", $"{unit} octets and {channels.Count} lines", "save it again, or as VCD");
        }

        if (metadata.Analog > 0)
        {
            assumptions.Add("The analog channels of the session are not read.");
        }

        if (metadata.OtherDevices > 0)
        {
            assumptions.Add("Only the first device of the session is read.");
        }

        return new SampleLayout(rate, unit, channels, "session zip") { Assumptions = assumptions };
    }

    private static (List<ZipMember> Pieces, (string, string, string)? After) PiecesOf(ZipDirectory directory, string captureFile)
    {
        SortedDictionary<int, ZipMember> numbered = [];
        ZipMember? single = null;
        foreach (ZipMember member in directory.Members)
        {
            if (member.Name == captureFile)
            {
                single ??= member;
            }
            else if (member.Name.StartsWith(captureFile + "-", StringComparison.Ordinal)
                && int.TryParse(member.Name.AsSpan(captureFile.Length + 1), NumberStyles.None, CultureInfo.InvariantCulture, out int number))
            {
                _ = numbered.TryAdd(number, member);
            }
        }

        (string, string, string)? after = directory.IsWhole
            ? null
            : ("the zip archive is cut or damaged", "a directory at its end", "none");
        if (single is not null)
        {
            return ([single], after);
        }

        List<ZipMember> pieces = [];
        foreach ((int number, ZipMember member) in numbered)
        {
            if (pieces.Count > 0 && number != numbered.Keys.First() + pieces.Count)
            {
                return (pieces, ("a piece of the session is missing", $"{captureFile}-{number - 1}", $"{captureFile}-{number}"));
            }

            pieces.Add(member);
        }

        return (pieces, after);
    }

    private static string? TextOf(Stream stream, ZipDirectory directory, string name, int most)
    {
        ZipMember? member = directory.Members.FirstOrDefault(each => each.Name == name);
        if (member is null || member.Size > most || member.Method is not (ZipMember.Stored or ZipMember.Deflated))
        {
            return null;
        }

        long at = directory.ContentAt(member);
        if (at < 0)
        {
            return null;
        }

        byte[] content = new byte[most];
        try
        {
            using ZipMemberFeed feed = new(stream, at, member);
            using Stream unpacked = member.Method == ZipMember.Stored ? feed : new GzipInput(ZipMemberFeed.GzipHeader, feed);
            int length = unpacked.ReadAtLeast(content, content.Length, throwOnEndOfStream: false);
            return Encoding.UTF8.GetString(content, 0, length);
        }
        catch (Exception failure) when (failure is IOException or InvalidDataException)
        {
            return null;
        }
    }

    private static InputException Refused(string name, string what, string expected, string found, string advice) =>
        new(name, new InputProblem(what, "", expected, found, advice));
}
