using System.Text;
using System.Xml;

using DmxProbe.Reporting.Text;

namespace DmxProbe.Reporting.Html;

/// <summary>
/// Writes HTML by way of the XML writer, which escapes whatever is text: markup in a name stays text. Control characters are
/// escaped as everywhere. Elements that HTML knows as empty end by themselves, all others get an end tag.
/// </summary>
internal sealed class HtmlWriter : IDisposable
{
    private static readonly HashSet<string> Void = ["meta", "img", "br", "hr"];
    private readonly XmlWriter _xml;

    /// <summary>Begins a document.</summary>
    /// <param name="output">Where to, as UTF-8; left open.</param>
    public HtmlWriter(Stream output)
    {
        byte[] type = Encoding.ASCII.GetBytes("<!doctype html>\n");
        output.Write(type);
        _xml = XmlWriter.Create(output, new XmlWriterSettings
        {
            OmitXmlDeclaration = true,
            ConformanceLevel = ConformanceLevel.Fragment,
            Encoding = new UTF8Encoding(false),
            NewLineHandling = NewLineHandling.None,
            CloseOutput = false,
        });
    }

    /// <summary>Opens an element.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="attributes">Its attributes; values may be untrusted.</param>
    public HtmlWriter Open(string name, params (string Name, string Value)[] attributes)
    {
        _xml.WriteStartElement(name);
        foreach ((string attribute, string value) in attributes)
        {
            _xml.WriteAttributeString(attribute, Printable.Text(value));
        }

        return this;
    }

    /// <summary>Closes the element opened last.</summary>
    public HtmlWriter Close()
    {
        _xml.WriteFullEndElement();
        return this;
    }

    /// <summary>An element without content.</summary>
    public void Empty(string name, params (string Name, string Value)[] attributes)
    {
        if (!Void.Contains(name))
        {
            throw new ArgumentException($"<{name}> has content in HTML", nameof(name));
        }

        _ = Open(name, attributes);
        _xml.WriteEndElement();
    }

    /// <summary>Text, untrusted or not.</summary>
    public HtmlWriter Text(string text)
    {
        _xml.WriteString(Printable.Text(text));
        return this;
    }

    /// <summary>An element that holds text only.</summary>
    public void Line(string name, string text, params (string Name, string Value)[] attributes) => Open(name, attributes).Text(text).Close();

    /// <summary>Text of ours that is no markup for the browser either: style and script.</summary>
    public void Raw(string name, string text)
    {
        _xml.WriteStartElement(name);
        _xml.WriteRaw(text);
        _xml.WriteFullEndElement();
    }

    /// <summary>A line break in the source, so that the page can be read and compared by line.</summary>
    public void Break() => _xml.WriteRaw("\n");

    /// <inheritdoc/>
    public void Dispose() => _xml.Dispose();
}
